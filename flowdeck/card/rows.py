"""Entries of a card as rows.

The law: the answer begins on the line on which its challenge ends, in its own column, and the rule joins them there.
"""

from collections.abc import Iterable

from msgspec import Struct

from flowdeck.card.content import Block, BlockKind, Card, Entry
from flowdeck.card.face import X_HEIGHT, broken, measure
from flowdeck.card.page import Bar, Fork, Kind, Part, Role, Rule, Target
from flowdeck.card.paper import Paper
from flowdeck.card.strips import (
    AFTER,
    BROKEN,
    GAP,
    THIN,
    Draft,
    Strip,
    base,
    marked,
    number_room,
    numbered,
    paragraph,
    space,
    words,
)

BESIDE, LEAST_RULE = 1.5, 2.0
"""Between the rule of a pair and its words, and how long the rule is at least; in millimetres."""


class Columns(Struct, frozen=True):
    """Where answers begin, and how wide the two columns are; between them there is room for the rule."""

    answer_x: float
    prompt: float
    answer: float


def columns(card: Card, paper: Paper) -> dict[BlockKind, Columns]:
    """The split at which the card has the fewest lines, nearest to the middle: one for calls, whose words are long."""
    calls = _best([block for block in card.blocks if block.kind == "calls"], paper)
    others = _best([block for block in card.blocks if block.kind != "calls"], paper)
    return {block.kind: calls if block.kind == "calls" else others for block in card.blocks}


def _best(blocks: list[Block], paper: Paper) -> Columns:
    pairs = [e for block in blocks for e in block.entries if e.answer and e.kind is Kind.ITEM]
    choices = [_split(paper, share / 100) for share in range(40, 65, 2)]
    narrow = Columns(0, min(c.prompt for c in choices), min(c.answer for c in choices))
    pairs = [e for e in pairs if _lines(e, narrow, paper) > 1]  # the others fit at every split
    return min(choices, key=lambda c: (sum(_lines(e, c, paper) for e in pairs), abs(c.prompt - c.answer)))


def _split(paper: Paper, share: float) -> Columns:
    room = paper.who_x - paper.prompt_x - GAP
    answer_x = paper.prompt_x + room * share
    return Columns(answer_x, answer_x - paper.prompt_x - 2 * BESIDE - LEAST_RULE, paper.who_x - GAP - answer_x)


def _lines(entry: Entry, c: Columns, paper: Paper) -> int:
    prompt, answer = pair(entry, c, paper)
    return len(prompt) + len(answer) - 1


def pair(entry: Entry, c: Columns, paper: Paper) -> tuple[list[str], list[str]]:
    """Challenge and answer as the lines that they take up."""
    room = c.prompt - (number_room(paper) if entry.note else 0)
    return broken(entry.prompt, room, paper.read), broken(entry.answer, c.answer, paper.read, bold=True)


def entry_row(entry: Entry, c: Columns, paper: Paper) -> Draft:
    match entry.kind:
        case Kind.HOLD:
            strips = _hold(entry, paper)
        case Kind.TERM:
            strips = _term(entry, paper)
        case Kind.ITEM | Kind.COMPLETION:
            strips = _pair(entry, c, paper) if entry.answer else _spoken(entry, paper)
        case _:
            raise ValueError(f"{entry.kind} is no row of a block")
    strips += [strip for line in entry.under for strip in paragraph(line, paper, paper.prompt_x + 3)]
    return Draft(
        kind=entry.kind,
        ref=entry.ref,
        strips=(*_with_marks(strips, entry, paper), space(AFTER)),
        note=entry.note,
        keep=entry.kind is Kind.HOLD,
    )


def _pair(entry: Entry, c: Columns, paper: Paper) -> list[Strip]:
    """The answer begins on the line on which the challenge ends, and the rule joins them there."""
    left, right = pair(entry, c, paper)
    y, size = base(paper.read, paper.pitch), paper.read
    strips = []
    for i in range(len(left) + len(right) - 1):
        parts: list[Part] = []
        number = None
        if i < len(left):
            parts.append(words(left[i], paper.prompt_x, y, size, Role.PROMPT))
        if i == len(left) - 1:
            end = paper.prompt_x + measure(left[i], size)
            number = end if entry.note else None
            start = end + (number_room(paper) if entry.note else 0) + BESIDE
            parts.append(Rule(x=start, to_x=c.answer_x - BESIDE, y=y - size * X_HEIGHT / 2, thick=THIN))
            parts.append(words(entry.who, paper.who_x, y, size, Role.WHO))
        if i >= len(left) - 1:
            line = right[i - len(left) + 1]
            parts.append(words(line, c.answer_x, y, size, Role.ANSWER, bold=True))
        strips.append(Strip(height=paper.pitch, parts=tuple(parts), number=number))
    return strips


def _spoken(entry: Entry, paper: Paper) -> list[Strip]:
    """Words over both columns: what is said by itself, or done without a state to reach."""
    y, size = base(paper.read, paper.pitch), paper.read
    room = paper.who_x - paper.prompt_x - GAP - (number_room(paper) if entry.note else 0)
    lines = broken(entry.prompt, room, size, bold=entry.bold)
    strips = [
        Strip(height=paper.pitch, parts=(words(line, paper.prompt_x, y, size, Role.PROMPT, bold=entry.bold),))
        for line in lines
    ]
    if entry.note:
        strips[-1] = numbered(strips[-1], paper.prompt_x + measure(lines[-1], size, bold=entry.bold))
    if entry.who:
        strips[0] = marked(strips[0], words(entry.who, paper.who_x, y, size, Role.WHO))
    return strips


def _hold(entry: Entry, paper: Paper) -> list[Strip]:
    """A broken rule across, and below it what the list waits for."""
    rule = Rule(x=paper.left, to_x=paper.right, y=paper.pitch * 0.28, thick=BROKEN, broken=True)
    return [Strip(height=paper.pitch * 0.5, parts=(rule,)), *_term(entry, paper)]


def _term(entry: Entry, paper: Paper) -> list[Strip]:
    """A bold word, and what it means on the same line."""
    y, size, x = base(paper.read, paper.pitch), paper.read, paper.prompt_x
    room = paper.right - x
    heads = broken(entry.prompt, room, size, bold=True)
    strips = [Strip(height=paper.pitch, parts=(words(h, x, y, size, Role.PROMPT, bold=True),)) for h in heads]
    start = x + measure(heads[-1], size, bold=True) + GAP
    beside = paper.right - start > room * 0.4
    lines = broken(entry.answer, room - 3, size, first=paper.right - start if beside else None)
    for i, line in enumerate(lines):
        if i == 0 and beside and not line:
            continue
        if i == 0 and beside:
            strips[-1] = marked(strips[-1], words(line, start, y, size, Role.UNDER))
        else:
            strips.append(Strip(height=paper.pitch, parts=(words(line, x + 3, y, size, Role.UNDER),)))
    return strips


def fork(paper: Paper) -> Fork:
    size = paper.read * 0.72
    return Fork(x=paper.prompt_x - size - 1.5, y=(paper.pitch - size) / 2, size=size)


def target(paper: Paper) -> Target:
    size = paper.read * 0.7
    return Target(x=paper.prompt_x - size - 1.5, y=(paper.pitch - size) / 2, size=size)


def _with_marks(strips: list[Strip], entry: Entry, paper: Paper) -> Iterable[Strip]:
    """A bar beside the whole row; other marks before its first lines, one a line."""
    shapes: list[Fork | Target] = []
    if entry.point:
        shapes.append(target(paper))
    if entry.conditional:
        shapes.append(fork(paper))
    for i, strip in enumerate(strips):
        one = marked(strip, shapes[i]) if i < len(shapes) else strip
        yield marked(one, Bar(x=paper.left, y=0, width=1.1, height=strip.height)) if entry.critical else one
