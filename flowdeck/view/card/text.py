"""Cards for a terminal: the same pages, line by line, in columns of letters.

Marks stand before a row as on paper: a bar for critical, `<` for the fork, a ring to point at. Weight cannot be
shown, so the column alone tells the answer. The small print of each page stands once, at the head of all.
"""

from collections.abc import Iterator
from textwrap import wrap

from flowdeck import DISCLAIMER
from flowdeck.card.layout import Layout
from flowdeck.card.page import Bar, Fork, Kind, Page, Role, Row, Rule, Target, Words
from flowdeck.model.deck import Deck
from flowdeck.view.words import deck_line, safe

WIDTH = 80
_MARKS, _ANSWER, _WHO = 4, 42, 73


def cards_text(deck: Deck, layout: Layout) -> str:
    """All cards, ending with a line feed; no line is wider than `WIDTH`."""
    lines = [*wrap(safe(deck_line(deck)), WIDTH)]
    lines += wrap(safe(f"{deck.identity.type}, {deck.identity.operator}"), WIDTH)
    lines += wrap(DISCLAIMER, WIDTH)
    for card in layout.cards:
        for page in card.pages:
            lines += ["", *_page(page)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _page(page: Page) -> Iterator[str]:
    for row in page.rows:
        if row.kind is Kind.HEAD:
            yield from _head(row)
        elif row.kind is not Kind.FOOT:
            yield from ([""] if row.kind in (Kind.SECTION, Kind.HEADING) else [])
            yield from _row(row)


def _words(row: Row) -> list[Words]:
    return [part for part in row.parts if isinstance(part, Words)]


def _head(row: Row) -> Iterator[str]:
    *left, count = [words.text for words in _words(row) if words.role is not Role.FINE]
    title = "  ".join(left)
    yield "\u2550" * WIDTH
    yield f"{title}{count:>{WIDTH - len(title)}}"
    yield "\u2550" * WIDTH


def _row(row: Row) -> Iterator[str]:
    """Words of one height are a line; a number goes with the last line of what it is about."""
    if any(isinstance(part, Rule) and part.broken for part in row.parts):
        yield "\u2504" * WIDTH
    if row.kind is Kind.NOTE and row.ref == "1":
        yield "\u2500" * 20
    number = next((words.text for words in _words(row) if words.role is Role.NUMBER), "")
    words = [each for each in _words(row) if each.role is not Role.NUMBER]
    numbered = [each.y for each in words if each.role in (Role.PROMPT, Role.TITLE)] if number else []
    bar = "\u258c" if any(isinstance(part, Bar) for part in row.parts) else " "
    above = row.y
    for level in sorted({round(each.y, 3) for each in words}):
        line = {each.role: each.text for each in words if abs(each.y - level) < 0.01}
        shapes = [part for part in row.parts if isinstance(part, (Fork, Target)) and above <= part.y < level]
        marks = bar + "".join("<" if isinstance(shape, Fork) else "\u25ce" for shape in shapes)
        if numbered and abs(numbered[-1] - level) < 0.01:
            line[Role.NUMBER] = f" [{number}]"
        if row.kind is Kind.NOTE:
            marks = f"{number:>3}"
            number = ""
        yield from _line(row.kind, marks, line)
        above = level


def _line(kind: Kind, marks: str, line: dict[Role, str]) -> list[str]:
    """One line of a row, as more where it is too wide."""
    under, number = line.get(Role.UNDER, ""), line.get(Role.NUMBER, "")
    prompt = line.get(Role.PROMPT, "") + number
    if Role.TITLE in line:
        return wrap(line[Role.TITLE] + number, WIDTH)
    if kind is Kind.END and len(under) < WIDTH - 2:
        return [f" {under}".rjust(WIDTH, "\u2500")]
    if kind in (Kind.END, Kind.CONTINUES):
        return [each.rjust(WIDTH) for each in wrap(under, WIDTH)]
    if under:
        inner = 0 if prompt or kind in (Kind.NOTE, Kind.ABOUT) else 2
        return _folded(marks, "  ".join(part for part in (prompt, under) if part), inner)
    return _pair(marks, prompt, line.get(Role.ANSWER, ""), line.get(Role.WHO, ""))


def _pair(marks: str, prompt: str, answer: str, who: str) -> list[str]:
    """Challenge, rule, answer, who answers; words that run into the next column send that to a line of its own."""
    lines, line = [], f"{marks:{_MARKS}}{prompt}"
    if answer:
        if len(line) > _ANSWER - 2:
            lines, line = _folded(marks, prompt, 0), ""
        elif prompt:
            line = f"{line} ".ljust(_ANSWER - 1, "\u2500")
        line = f"{line:{_ANSWER}}{answer}"
    if len(line) > (_WHO - 1 if who else WIDTH):
        lines += wrap(line, WIDTH, drop_whitespace=False)
        line = ""
    return [*lines, f"{line:{_WHO}}{who}"] if line or who else lines


def _folded(marks: str, text: str, inner: int) -> list[str]:
    first = f"{marks:{_MARKS}}{'':{inner}}"
    return wrap(text, WIDTH, initial_indent=first, subsequent_indent=" " * len(first))
