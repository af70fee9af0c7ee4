"""What stands on a card, before anything is measured: blocks of entries in the deck's order."""

from typing import Literal

from msgspec import Struct

from flowdeck.card.page import Kind
from flowdeck.model.deck import Identity
from flowdeck.model.seats import Seat

BlockKind = Literal["list", "answers", "flow", "calls", "standing", "legend", "glossary"]


class Entry(Struct, frozen=True, kw_only=True):
    """One row. *prompt* and *answer* are joined by a rule; without an answer the prompt is said (*bold*) or read.

    *under*: lines below, in words; *note*: what is told at the foot of the page.
    """

    kind: Kind
    ref: str
    prompt: str
    answer: str = ""
    who: str = ""
    under: tuple[str, ...] = ()
    note: str = ""
    bold: bool = False
    conditional: bool = False
    critical: bool = False
    point: bool = False


class Block(Struct, frozen=True, kw_only=True):
    """A list, a flow or another set. *section*: the phase; shown when it is another than that of the block before."""

    kind: BlockKind
    ref: str
    title: str
    entries: tuple[Entry, ...]
    about: str = ""
    note: str = ""
    section: str = ""
    conditional: bool = False


class Card(Struct, frozen=True, kw_only=True):
    """*seat* is whose card this is; None for that of the lists."""

    deck: str
    title: str
    identity: Identity
    hash: str
    blocks: tuple[Block, ...]
    seat: Seat | None = None
