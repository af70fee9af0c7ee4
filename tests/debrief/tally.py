"""A second count of opportunities, straight from the events: each thing's story as a string of letters.

O opened, F found, D done, P its first half, S seen, V its limit ran out, W withdrawn, L lapsed, M missed, R reopened,
X reset, U undone.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Callable, Sequence

from flowdeck.model import events as ev
from flowdeck.model.deck import Deck, Item, ItemKind
from flowdeck.model.deviation import Slip
from flowdeck.model.seats import Owner

LETTERS: dict[type, str] = {
    ev.ItemOpened: "O",
    ev.ItemFound: "F",
    ev.ItemDone: "D",
    ev.ItemPartly: "P",
    ev.ItemSeen: "S",
    ev.ItemOverdue: "V",
    ev.ItemWithdrawn: "W",
    ev.ItemLapsed: "L",
    ev.ItemMissed: "M",
    ev.ItemReopened: "R",
}
SPOKEN = (ItemKind.CALL, ItemKind.ANSWER)


def stories(events: Sequence[ev.Event]) -> dict[str, str]:
    """Letters by item."""
    told: dict[str, str] = defaultdict(str)
    for event in events:
        if isinstance(event, ev.Reset):
            for item in event.items:
                told[item] += "X"
        elif letter := LETTERS.get(type(event)):
            told[event.item] += letter  # type: ignore[attr-defined]  # each of LETTERS has an item
        elif isinstance(event, ev.Undone) and event.what == "tick":
            raise NotImplementedError("a flight without undo")
    return told


def owed(story: str) -> int:
    """Times that a pilot owed it: windows that opened, less those withdrawn undone, and acts before any window.

    A window that is still open at the very end is not over and not counted. One whose limit ran out first is counted,
    withdrawn or open.
    """
    withdrawn = len(re.findall(r"O[PLM]*W", story))
    unfinished = len(re.findall(r"OP*$", story))
    without = len(re.findall(r"(?:^|[RXW])V?D", story))
    return story.count("O") - withdrawn - unfinished + without


def lines_of(events: Sequence[ev.Event]) -> set[tuple[int, str]]:
    """Each line that was read or passed over, with how many lists had been called by then."""
    lines, calls = set(), 0
    for event in events:
        calls += isinstance(event, ev.ListCalled)
        if isinstance(event, ev.LineRead | ev.LineSkipped):
            lines.add((calls, event.line))
    return lines


def by_one(item: Item) -> bool:
    return item.by not in (Owner.BOTH, Owner.EITHER)


def tally(deck: Deck, events: Sequence[ev.Event]) -> Counter[Slip]:
    """Opportunities of the classes whose count needs no other judgement than the events'."""
    n: Counter[Slip] = Counter()
    acts: dict[str, int] = Counter(e.item for e in events if isinstance(e, ev.ItemDone))
    all_told = stories(events)
    unjudged = {ref: story.replace("V", "") for ref, story in all_told.items()}  # without what is judged by its limit
    spoken = {ref for ref in all_told if deck.items[ref].kind in SPOKEN}  # a late call is judged when it is made
    told = {ref: owed(unjudged[ref] if ref in spoken else story) for ref, story in all_told.items()}

    def of(kinds: Sequence[ItemKind], also: Callable[[Item], bool] = lambda _: True) -> int:
        return sum(count for ref, count in told.items() if deck.items[ref].kind in kinds and also(deck.items[ref]))

    def done(weight: Callable[[Item], int]) -> int:
        return sum(count * weight(deck.items[ref]) for ref, count in acts.items())

    reads = [e for e in events if isinstance(e, ev.LineRead)]
    answers = [deck.items[e.line] for e in events if isinstance(e, ev.LineAnswered)]
    called = [deck.checklists[e.checklist] for e in events if isinstance(e, ev.ListCalled)]
    completed = sum(isinstance(e, ev.ListCompleted) for e in events)
    failed = sum(isinstance(e, ev.GateFailed) for e in events)

    # a go-around leaves what was owed without a word, and what was put off and lost is another class; a line that is
    # read from the top again is the same line of the same list
    ended = {ref: owed(re.sub(r"OP*(?:X|$)", "", story)) for ref, story in unjudged.items()}
    n[Slip.OMITTED] = sum(count for ref, count in ended.items() if deck.items[ref].kind is ItemKind.ACTION)
    n[Slip.OMITTED] += len(lines_of(events))
    n[Slip.UNVERIFIED] = done(lambda item: item.seen is not None or item.point or item.value is not None)
    n[Slip.UNVERIFIED] += sum(i.seen is not None or i.value is not None or bool(i.verifies) for i in answers)
    n[Slip.LATE] = of([ItemKind.ACTION], lambda item: item.late is not None)
    n[Slip.EARLY] = done(  # its phase may not have come yet, whatever else opens it; an answer waits for its call
        lambda item: item.kind is not ItemKind.ANSWER and (item.opens is not None or deck.start not in item.phases)
    )
    n[Slip.OUT_OF_ORDER] = done(lambda item: sum(edge.hard for edge in item.after) + len(item.needs))
    n[Slip.OUT_OF_ORDER] += sum(edge.hard for checklist in called for edge in checklist.after)
    n[Slip.FLOW_ORDER] = done(lambda item: sum(not edge.hard for edge in item.after))
    n[Slip.FLOW_ORDER] += sum(not edge.hard for checklist in called for edge in checklist.after)
    n[Slip.WRONG_SEAT] = done(by_one) + len(called) + completed + len(reads) + sum(map(by_one, answers))
    n[Slip.WRONG_SEAT] += sum(  # an answer in other words was an answer, and what was done again an act
        isinstance(e, ev.DeviationRaised) and e.slip in (Slip.NONSTANDARD_RESPONSE, Slip.REPEATED) for e in events
    )
    n[Slip.READ_DO] = sum(bool(line.verifies) for line in answers)
    n[Slip.WRONG_TIME] = len(called) + len(reads)
    for slip in (Slip.FROM_MEMORY, Slip.CHUNKED, Slip.NO_COMPLETION):
        n[slip] = len(called)
    for slip in (Slip.CALL_MISSED, Slip.CALL_LATE, Slip.CALL_PROMPTED):
        n[slip] = of(SPOKEN)
    n[Slip.GATE_FAILED] = failed + sum(isinstance(e, ev.GatePassed) for e in events)
    n[Slip.CONTINUED_PAST_GATE] = failed
    n[Slip.STANDING_MISSED] = of([ItemKind.STANDING_ON])
    n[Slip.STANDING_LEFT_ON] = of([ItemKind.STANDING_OFF])
    n[Slip.DEFERRED_LOST] = sum(isinstance(e, ev.ItemDeferred) for e in events)
    return n
