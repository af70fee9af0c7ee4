"""What stands round the rows of a block: the phase, its name, what it is, its end."""

from msgspec.structs import replace

from flowdeck.card.content import Block
from flowdeck.card.face import X_HEIGHT, broken, measure
from flowdeck.card.page import Kind, Part, Role, Rule
from flowdeck.card.paper import Paper
from flowdeck.card.rows import Columns, entry_row, fork
from flowdeck.card.strips import (
    AFTER,
    GAP,
    THICK,
    Draft,
    Strip,
    base,
    kept,
    marked,
    number_room,
    numbered,
    paragraph,
    space,
    words,
)


def block_rows(block: Block, c: Columns, paper: Paper, *, section: bool, last: bool) -> list[Draft]:
    """*section*: the phase stands above it; *last*: the card ends with it."""
    rows = [_section(block, paper)] if section else []
    rows += _heading(block, paper)
    entries = [entry_row(entry, c, paper) for entry in block.entries]
    rows += entries
    if block.kind in ("list", "answers"):
        rows[-1] = kept(rows[-1])
        rows.append(_end(f"end of {block.title}", block.ref, paper))
    else:
        rows[-1] = replace(rows[-1], strips=(*rows[-1].strips, space(paper.pitch * 0.4)))
    if last:
        rows[-1] = kept(rows[-1])
    return rows


def _section(block: Block, paper: Paper) -> Draft:
    pitch, size = paper.pitch * 1.5, paper.heading * 1.15
    y = base(size, pitch)
    parts: tuple[Part, ...] = (words(block.section, paper.left, y, size, Role.TITLE, bold=True),)
    lines = broken(block.section, paper.right - paper.left, size, bold=True)
    if len(lines) > 1:
        strips = [Strip(height=pitch, parts=(words(x, paper.left, y, size, Role.TITLE, bold=True),)) for x in lines]
        return Draft(kind=Kind.SECTION, ref=block.ref, strips=tuple(strips), keep=True)
    end = paper.left + measure(block.section, size, bold=True) + GAP
    if end < paper.right:
        parts += (Rule(x=end, to_x=paper.right, y=y - size * X_HEIGHT / 2, thick=THICK),)
    return Draft(kind=Kind.SECTION, ref=block.ref, strips=(Strip(height=pitch, parts=parts),), keep=True)


def _heading(block: Block, paper: Paper) -> list[Draft]:
    heading = title_row(Kind.HEADING, block.ref, block.title, paper, note=block.note)
    rows = [heading]
    if block.about:
        strips = list(paragraph(block.about, paper, paper.prompt_x))
        if block.conditional:
            strips[0] = marked(strips[0], fork(paper))
        rows.append(Draft(kind=Kind.ABOUT, ref=block.ref, strips=(*strips, space(AFTER)), keep=True))
    return rows


def title_row(kind: Kind, ref: str, text: str, paper: Paper, *, note: str = "") -> Draft:
    """The name of a block, at the head of it and where it goes on."""
    pitch = paper.heading * 1.35
    y = base(paper.heading, pitch)
    room = paper.right - paper.left - (number_room(paper) if note else 0)
    lines = broken(text, room, paper.heading, bold=True)
    strips = [
        Strip(height=pitch, parts=(words(line, paper.left, y, paper.heading, Role.TITLE, bold=True),)) for line in lines
    ]
    if note:
        strips[-1] = numbered(strips[-1], paper.left + measure(lines[-1], paper.heading, bold=True))
    return Draft(kind=kind, ref=ref, strips=tuple(strips), note=note, keep=True)


def _end(text: str, ref: str, paper: Paper) -> Draft:
    """Words at the right with a rule that leads to them: nothing of the list comes after this."""
    y = base(paper.read, paper.pitch)
    lines = broken(text, paper.right - paper.left, paper.read)
    strips = [
        Strip(height=paper.pitch, parts=(words(line, 0, y, paper.read, Role.UNDER, to_the=paper.right),))
        for line in lines
    ]
    end = paper.right - measure(lines[0], paper.read) - GAP
    if len(lines) == 1 and end > paper.left:
        rule = Rule(x=paper.left, to_x=end, y=y - paper.read * X_HEIGHT / 2, thick=THICK)
        strips[0] = marked(strips[0], rule)
    return Draft(kind=Kind.END, ref=ref, strips=(*strips, space(paper.pitch * 0.7)))


def end_of_card(title: str, paper: Paper) -> Draft:
    y = base(paper.read, paper.pitch)
    lines = broken(f"end of the card: {title}", paper.right - paper.left, paper.read, bold=True)
    strips = [
        Strip(height=paper.pitch, parts=(words(line, 0, y, paper.read, Role.UNDER, bold=True, to_the=paper.right),))
        for line in lines
    ]
    return Draft(kind=Kind.END, ref="card", strips=tuple(strips))
