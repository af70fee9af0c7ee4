"""What many arrivals together show of a deck."""

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from msgspec import Struct

from flowdeck.model.deck import Deck, ItemKind
from flowdeck.trial.batch.outcome import Outcome


class Times(NamedTuple):
    """Something owed over all runs. *owed*, *prompted*, *overdue*: how often; *runs*: in how many runs at all.

    Seconds: the middle and nine tenths of what it took, and the middle and one tenth of what there was.
    """

    owed: int
    runs: int
    prompted: int
    overdue: int
    took_mid_s: float | None
    took_most_s: float | None
    there_mid_s: float | None
    there_least_s: float | None


class Gate(NamedTuple):
    met: int
    failed: int


class Busy(NamedTuple):
    """Acts of each seat in one minute of the flight, over the runs that lasted so long: mean and most."""

    minute: int
    runs: int
    captain: float
    first_officer: float
    captain_most: int
    first_officer_most: int


class Total(Struct, frozen=True, kw_only=True):
    """*ends*: how often each end was reached. *stuck*: the runs that reached none.

    *never_true*, *never_false*: conditions by number that were not seen so. *slips*: `late flaps-up` by how often.
    """

    deck: Deck
    scenario: str
    seed: int
    runs: int
    ends: dict[str, int]
    stuck: tuple[Outcome, ...]
    times: dict[str, Times]
    gates: dict[str, Gate]
    busy: tuple[Busy, ...]
    never_true: tuple[int, ...]
    never_false: tuple[int, ...]
    slips: dict[str, int]
    phases: dict[str, int]

    @property
    def both_seen(self) -> int:
        """Conditions that were seen true and seen false."""
        missing = set(self.never_true) | set(self.never_false)
        return len(self.deck.conditions) - len(missing)


def total_of(deck: Deck, scenario: str, seed: int, outcomes: Sequence[Outcome]) -> Total:
    """Of the outcomes of runs 0 to the last, in this order."""
    seen_true = seen_false = 0
    for each in outcomes:
        seen_true |= each.seen_true
        seen_false |= each.seen_false
    rows = range(len(deck.conditions))
    refs = [*deck.items, *deck.checklists]
    met: Counter[str] = Counter()
    failed: Counter[str] = Counter()
    slips: Counter[str] = Counter()
    phases: Counter[str] = Counter()
    for each in outcomes:
        met.update({gate: pair[0] for gate, pair in each.gates.items()})
        failed.update({gate: pair[1] for gate, pair in each.gates.items()})
        slips.update(each.slips)
        phases.update(set(each.phases))
    return Total(
        deck=deck,
        scenario=scenario,
        seed=seed,
        runs=len(outcomes),
        ends=dict(sorted(Counter(each.end for each in outcomes if each.end).items())),
        stuck=tuple(each for each in outcomes if not each.end),
        times={ref: _times(ref, outcomes) for ref in refs if _counts(deck, ref)},
        gates={gate: Gate(met[gate], failed[gate]) for gate in deck.gates},
        busy=_busy(outcomes),
        never_true=tuple(row for row in rows if not seen_true >> row & 1),
        never_false=tuple(row for row in rows if not seen_false >> row & 1),
        slips=dict(sorted(slips.items())),
        phases={phase: phases[phase] for phase in deck.phases},
    )


def _counts(deck: Deck, ref: str) -> bool:
    """Lines are owed by their list."""
    item = deck.items.get(ref)
    return item is None or item.kind is not ItemKind.LINE


def _times(ref: str, outcomes: Sequence[Outcome]) -> Times:
    every = [owed for each in outcomes for owed in each.owed.get(ref, ())]
    took = sorted(owed.took_s for owed in every if owed.took_s is not None)
    there = sorted(owed.there_s for owed in every if owed.there_s is not None)
    return Times(
        owed=len(every),
        runs=sum(ref in each.owed for each in outcomes),
        prompted=sum(owed.prompted for owed in every),
        overdue=sum(owed.overdue for owed in every),
        took_mid_s=_at(took, 0.5),
        took_most_s=_at(took, 0.9),
        there_mid_s=_at(there, 0.5),
        there_least_s=_at(there, 0.1),
    )


def _at(ordered: Sequence[float], share: float) -> float | None:
    """The value below which *share* of all lie: the nearest of them, none between."""
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))] if ordered else None


def _busy(outcomes: Sequence[Outcome]) -> tuple[Busy, ...]:
    last = max((each.minutes[-1].minute for each in outcomes if each.minutes), default=-1)
    found = []
    for number in range(last + 1):
        minutes = [m for each in outcomes for m in each.minutes if m.minute == number]
        captain, first_officer = [m.captain for m in minutes], [m.first_officer for m in minutes]
        found.append(
            Busy(
                minute=number,
                runs=len(minutes),
                captain=round(sum(captain) / len(minutes), 2),
                first_officer=round(sum(first_officer) / len(minutes), 2),
                captain_most=max(captain),
                first_officer_most=max(first_officer),
            )
        )
    return tuple(found)
