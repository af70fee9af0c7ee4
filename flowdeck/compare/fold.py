"""What is one decision is one change: a flow's words for its items, a call and its answer, both halves of a pair."""

from collections.abc import Hashable, Iterable, Iterator

from msgspec.structs import replace

from flowdeck.compare.aspects import Aspect, Thing
from flowdeck.compare.change import Change, Cond, Covered, Spot
from flowdeck.compare.match import Matches
from flowdeck.compare.records import Book
from flowdeck.model.deck import ItemKind

A = Aspect
_INHERITED = {
    Thing.ACTION: frozenset({A.BY, A.OPENS, A.DUE, A.LATE, A.WHEN, A.UNLESS}),
    Thing.LINE: frozenset({A.WHY, A.SURVIVES}),
    Thing.CHECKLIST: frozenset({A.WHY, A.SURVIVES}),
    Thing.CALL: frozenset({A.WHY, A.CRITICAL, A.PHASES}),
    Thing.ANSWER: frozenset({A.WHY, A.CRITICAL, A.PHASES}),
    Thing.STANDING: frozenset({A.BY, A.DO, A.UNLESS, A.CRITICAL, A.WHY, A.PHASES, A.PLACE, A.NAME}),
}
"""What several things have from one place in the files."""
_FIRST = (Thing.CHECKLIST, Thing.CALL)
"""Those that give the change its name where others changed with them."""


def folded(m: Matches, changes: Iterable[Change]) -> Iterator[Change]:
    """The same changes, those that were made by one word in the files as one."""
    families: dict[Hashable, list[Change]] = {}
    for change in _without_derived_ends(list(changes)):
        key: Hashable = id(change)
        if change.aspect in _INHERITED.get(change.thing, ()):
            key = (*_family(m, change), change.aspect, change.before, change.after, change.tendency)
        families.setdefault(key, []).append(change)
    for family in families.values():
        yield family[0] if len(family) == 1 else _one(m, family)


def _one(m: Matches, family: list[Change]) -> Change:
    lead = min(family, key=lambda change: change.thing not in _FIRST)
    if lead.thing is Thing.ACTION:
        assert lead.old is not None and lead.new is not None
        old, new = (Spot(spot.home, spot.phase) for spot in (lead.old, lead.new))
        return replace(lead, thing=Thing.FLOW, old=old, new=new, covers=tuple(map(_covered, family)))
    if lead.thing is Thing.LINE:
        assert lead.old is not None and lead.new is not None
        old, new = (Spot(spot.home, spot.phase) for spot in (lead.old, lead.new))
        return replace(lead, thing=Thing.CHECKLIST, old=old, new=new, covers=tuple(map(_covered, family)))
    return replace(lead, covers=tuple(_covered(change) for change in family if change is not lead))


def _covered(change: Change) -> Covered:
    assert change.old is not None and change.new is not None
    return Covered(change.thing, change.old, change.new)


def _family(m: Matches, change: Change) -> tuple[str, str, str]:
    """What the change would be a change of, if it was made in one place."""
    assert change.old is not None and change.new is not None
    old, new = change.old, change.new
    match change.thing:
        case Thing.ACTION | Thing.LINE:
            return "inside", old.home, new.home
        case Thing.CHECKLIST:
            return "inside", old.id, new.id
        case Thing.ANSWER:
            return "call", str(m.old[Thing.ANSWER][old.id].of.partner), str(m.new[Thing.ANSWER][new.id].of.partner)
        case Thing.CALL:
            return "call", old.id, new.id
        case _:
            return "pair", _on_half(m.old, old.id), _on_half(m.new, new.id)


def _on_half(book: Book, id_: str) -> str:
    of = book[Thing.STANDING][id_].of
    return id_ if of.kind is ItemKind.STANDING_ON else str(of.partner)


def _without_derived_ends(changes: list[Change]) -> list[Change]:
    """Without the end of a standing item that is only `not` its beginning, when that changed too."""
    begins = {
        (c.old.id, c.new.id): c
        for c in changes
        if c.thing is Thing.STANDING and c.aspect is A.OPENS and c.old is not None and c.new is not None
    }

    def derived(change: Change) -> bool:
        if change.thing is not Thing.STANDING or change.aspect is not A.OPENS or not (change.old and change.new):
            return False
        on = begins.get((_other(change.old.id), _other(change.new.id)))
        return (
            on is not None
            and change.old.id.endswith("-off")
            and _negated(on.before) == change.before
            and _negated(on.after) == change.after
        )

    return [change for change in changes if not derived(change)]


def _other(off: str) -> str:
    return off.removesuffix("-off") + "-on"


def _negated(value: object) -> object:
    return Cond(f"not ({value.text})") if isinstance(value, Cond) else None
