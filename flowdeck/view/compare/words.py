"""A comparison in words and rows, the same for the terminal, the page and paper."""

from typing import NamedTuple

from flowdeck.compare.aspects import Aspect, Thing
from flowdeck.compare.change import Change, Tendency
from flowdeck.compare.comparison import Comparison
from flowdeck.compare.weight import Weight, weight_of
from flowdeck.model.deck import Deck, Edge
from flowdeck.view.compare.labels import THINGS, aspect_words
from flowdeck.view.compare.values import named, told
from flowdeck.view.words import safe, title

WEIGHTS: dict[Weight, str] = {
    Weight.HEAVY: "look hardest",
    Weight.MIDDLE: "look closely",
    Weight.LIGHT: "words",
}


class Entry(NamedTuple):
    """One change for a reader. *thing*: what it is of, *what*: what became of it; *was*, *now*: empty where nothing is.

    *alike*: the things that changed with it, or empty. *lone*: *was* and *now* are one text each, to be compared word
    by word.
    """

    number: int
    weight: Weight
    thing: str
    what: str
    was: tuple[str, ...]
    now: tuple[str, ...]
    alike: str
    lone: bool


class Stage(NamedTuple):
    """A phase, or the deck as a whole, with what changed in it."""

    title: str
    entries: tuple[Entry, ...]


def entries(c: Comparison) -> tuple[Stage, ...]:
    """By phase in flight order, the deck as a whole first; only where something changed."""
    by_stage: dict[int, list[Entry]] = {}
    for number, change in enumerate(c.changes, 1):
        by_stage.setdefault(c.stage_of(change), []).append(_entry(c, number, change))
    return tuple(Stage(stage_title(c, at), tuple(found)) for at, found in by_stage.items())


def stage_title(c: Comparison, at: int) -> str:
    """-1: the deck as a whole."""
    if at < 0:
        return "The deck as a whole"
    old, new = c.stages[at]
    return safe(title(c.new, new) if new is not None else title(c.old, old or ""))


def _entry(c: Comparison, number: int, change: Change) -> Entry:
    whole = change.aspect is Aspect.WHOLE
    was = () if change.before is None and (whole or change.old is None) else _told(c.old, change, new=False)
    now = () if change.after is None and (whole or change.new is None) else _told(c.new, change, new=True)
    return Entry(
        number=number,
        weight=weight_of(change),
        thing=thing_of(c, change),
        what=what_of(change),
        was=was,
        now=now,
        alike=_alike(c, change),
        lone=not whole,
    )


def _alike(c: Comparison, change: Change) -> str:
    names = ", ".join(named(c.new, each.thing, each.new.id) for each in change.covers)
    how = "for" if change.thing in (Thing.FLOW, Thing.CHECKLIST) else "also"
    return f"{how} {names}" if names else ""


def _told(deck: Deck, change: Change, *, new: bool) -> tuple[str, ...]:
    return tuple(told(deck, change.thing, change.aspect, change.after if new else change.before))


def thing_of(c: Comparison, change: Change) -> str:
    """`Line Gear DOWN (ll-gear) of Landing checklist`."""
    deck, spot = (c.new, change.new) if change.new is not None else (c.old, change.old)
    assert spot is not None
    words = named(deck, change.thing, spot.id)
    if change.covers and change.thing is Thing.STANDING:
        words = f"{safe(deck.items[spot.id].do)} ({spot.id.removesuffix('-on')})"
    inside = ""
    if change.thing in (Thing.LINE, Thing.HOLD):
        inside = f" of {safe(deck.checklists[spot.home].title)}"
    elif change.thing is Thing.ACTION:
        inside = f" of {safe(deck.groups[spot.home].title)}"
    return f"{THINGS[change.thing]} {words}{inside}"


_WITHIN = {
    Thing.ACTION: "moved within its flow",
    Thing.LINE: "moved within its list",
    Thing.HOLD: "moved within its list",
}
_ELSEWHERE = {
    Thing.ACTION: "moved to another flow",
    Thing.LINE: "moved to another list",
    Thing.HOLD: "moved to another list",
}


def what_of(change: Change) -> str:
    """What became of it: `late: later`, `hard edge removed`, `moved to another seat`."""
    thing, aspect, before, after = change.thing, change.aspect, change.before, change.after
    come, gone = before is None, after is None
    match aspect:
        case Aspect.WHOLE:
            return "added" if come else "removed"
        case Aspect.NAME:
            return "renamed"
        case Aspect.PLACE:
            return _ELSEWHERE.get(thing, "moved to another phase")
        case Aspect.ORDER:
            return _WITHIN.get(thing, "moved within its phase")
        case Aspect.BY if thing is not Thing.FACT:
            return "moved to another seat"
        case Aspect.EDGE:
            return _edge(before, after)
        case Aspect.DO if thing not in (Thing.LINE,):
            return "reworded"
        case Aspect.WHY:
            return "why: reworded"
        case _:
            words = aspect_words(thing, aspect)
            how = "added" if come else "removed" if gone else _how(change.tendency, aspect)
            return f"{words}: {how}"


def _edge(before: object, after: object) -> str:
    one = next(edge for edge in (after, before) if isinstance(edge, Edge))
    kind = "hard edge" if one.hard else "flow edge"
    if isinstance(before, Edge) and isinstance(after, Edge):
        return "flow edge made hard" if after.hard else "hard edge made flow order"
    return f"{kind} added" if before is None else f"{kind} removed"


def _how(tendency: Tendency | None, aspect: Aspect) -> str:
    if tendency is None:
        return "changed"
    if aspect in (Aspect.NEED, Aspect.MUST):
        return "stricter" if tendency is Tendency.NARROWER else "looser"
    if aspect is Aspect.WITHIN_S:
        return "longer" if tendency is Tendency.LATER else "shorter"
    return {
        Tendency.EARLIER: "earlier",
        Tendency.LATER: "later",
        Tendency.WIDER: "in more cases",
        Tendency.NARROWER: "in fewer cases",
    }[tendency]


def summary(c: Comparison) -> str:
    """`12 changes: 5 to look at hardest, 4 closely, 3 of words`."""
    counts = {weight: sum(weight_of(change) is weight for change in c.changes) for weight in Weight}
    total = len(c.changes)
    parts = [
        f"{counts[weight]} {words}"
        for weight, words in (
            (Weight.HEAVY, "to look at hardest"),
            (Weight.MIDDLE, "to look at closely"),
            (Weight.LIGHT, "of words alone"),
        )
        if counts[weight]
    ]
    return f"{total} change{'' if total == 1 else 's'} to sign: {', '.join(parts)}."


def standing(c: Comparison) -> list[str]:
    """How it stands between the two: what there is to sign, or that there is nothing."""
    if c.changes:
        hard = [i for i, change in enumerate(c.changes, 1) if weight_of(change) is Weight.HEAVY]
        return [summary(c), *([f"Look hardest at {_runs(hard)}."] if hard else [])]
    if c.old.hash == c.new.hash:
        return ["No difference: the files are the same."]
    return [
        "No difference that a crew or a reader of the deck would meet. The files are not the same: comments, blanks or "
        "the order of things that have no order in flight."
    ]


def _runs(numbers: list[int]) -> str:
    """`1, 4 to 7, 9`."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    parts = (f"{a}" if a == b else f"{a}, {b}" if b == a + 1 else f"{a} to {b}" for a, b in runs)
    return ", ".join(parts)
