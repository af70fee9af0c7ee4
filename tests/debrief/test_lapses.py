"""What became of each lapse on purpose, told from the events of whole flights and of small ones."""

import pytest

from flowdeck.debrief.lapses import Fate, LapseFate, lapses_of
from flowdeck.debrief.study import study
from flowdeck.model import events as ev
from flowdeck.model.deviation import Severity, Slip, Trapper
from flowdeck.model.lapse import LapseKind
from flowdeck.model.seats import Seat
from flowdeck.view.debrief.data import debrief_data
from flowdeck.view.debrief.text import debrief_text
from tests.scenarios.flown import flown
from tests.support.cockpit import bundled
from tests.support.daily import some
from tests.support.played import EVERY_DAY, LAPSING, clean_with, lapsing

CPT, FO = Seat.CAPTAIN, Seat.FIRST_OFFICER
DECK = bundled("clean")[0]
REF = "landing-mass"


def made(at: int = 10_000, ref: str = REF) -> ev.LapseMade:
    return ev.LapseMade(at=at, kind=LapseKind.ITEM_OMITTED, seat=FO, ref=ref)


def slip(at: int, number: int = 1, ref: str = REF, seat: Seat | None = FO) -> ev.DeviationRaised:
    return ev.DeviationRaised(
        at=at, number=number, slip=Slip.LATE, severity=Severity.CAUTION, item=ref, expected="", actual="", seat=seat
    )


def spoke(at: int, ref: str = REF, seat: Seat = CPT) -> ev.Challenged:
    return ev.Challenged(at=at, seat=seat, about=ref, reply_by=at + 5000)


def trapped(at: int, by: Trapper, number: int = 1) -> ev.DeviationTrapped:
    return ev.DeviationTrapped(at=at, number=number, by=by)


BY = Fate.WENT_BY
BOTH_LATE = slip(20_000, ref="briefing", seat=None)
TOLD: list[tuple[str, list[ev.Event], Fate, int | None]] = [
    ("nothing more", [made()], Fate.HARMLESS, None),
    ("a slip that stands", [made(), slip(20_000)], Fate.WENT_BY, None),
    ("spoken about before any slip", [made(), spoke(12_000)], Fate.CAUGHT, 2000),
    ("spoken about after it", [made(), slip(20_000), spoke(25_000)], Fate.CAUGHT, 15_000),
    ("trapped by the other seat", [made(), slip(20_000), trapped(30_000, Trapper.OTHER_SEAT)], Fate.CAUGHT, 20_000),
    ("put right unasked", [made(), slip(20_000), trapped(30_000, Trapper.MAKER)], Fate.MENDED, 20_000),
    ("one of two put right", [made(), slip(20_000), slip(21_000, 2), trapped(30_000, Trapper.MAKER)], BY, None),
    ("its maker speaks of it", [made(), slip(20_000), spoke(25_000, seat=FO)], Fate.WENT_BY, None),
    ("another thing is spoken about", [made(), slip(20_000), spoke(25_000, "gear-down")], Fate.WENT_BY, None),
    ("the other pilot's slip of the same thing", [made(), slip(20_000, seat=CPT)], Fate.HARMLESS, None),
    ("spoken about before it was made", [spoke(5000), made()], Fate.HARMLESS, None),
    ("put right by the screen's help", [made(), slip(20_000), trapped(30_000, Trapper.TOOL)], Fate.MENDED, 20_000),
    ("what both do after it is late", [made(), BOTH_LATE, trapped(21_000, Trapper.TOOL)], Fate.HARMLESS, None),
    ("what comes after it is spoken about", [made(), slip(20_000), spoke(25_000, "briefing")], Fate.WENT_BY, None),
]  # fmt: skip


@pytest.mark.parametrize(("events", "fate", "latency"), [row[1:] for row in TOLD], ids=[row[0] for row in TOLD])
def test_its_fate(events: list[ev.Event], fate: Fate, latency: int | None) -> None:
    found = lapses_of(DECK, events)
    assert [(each.fate, each.latency_ms) for each in found] == [(fate, latency)]


def test_the_same_again_in_a_later_approach_is_another() -> None:
    """Each has its own fate: the first went by, the second was caught."""
    events = [made(), slip(20_000), made(200_000), spoke(210_000)]
    assert [each.fate for each in lapses_of(DECK, events)] == [Fate.WENT_BY, Fate.CAUGHT]


def test_a_line_is_caught_by_speaking_of_its_list() -> None:
    lapse = ev.LapseMade(at=10_000, kind=LapseKind.LINE_BLIND, seat=FO, ref="landing-gear")
    assert lapses_of(DECK, [lapse, spoke(13_000, "landing-list")])[0].fate is Fate.CAUGHT


@pytest.mark.parametrize(("seat", "seed"), some(LAPSING, EVERY_DAY))
def test_of_a_whole_flight(seat: Seat, seed: int) -> None:
    """All of them are there; what was caught is followed by words or deeds of the other seat; the text and the data
    name as many."""
    done = lapsing(seat, seed)
    d = study(done.deck, done.scenario, done.events)
    assert len(d.lapses) == len(done.of(ev.LapseMade)) and d.played == (seat,)
    spoken = {e.about for e in done.of(ev.Challenged) if e.seat is seat.other}
    slips = {each.number: each for each in done.flight.session.deviations}
    for lapse in d.lapses:
        if lapse.fate is Fate.CAUGHT:
            by = {slips[n].trapped_by for n in lapse.slips}
            assert by & {Trapper.OTHER_SEAT, Trapper.TOOL} or spoken & _near(lapse)
        if lapse.fate is Fate.WENT_BY:
            assert any(slips[n].trapped_by is None for n in lapse.slips)
    text, data = debrief_text(d, ""), debrief_data(d, "")
    assert f"{len(d.lapses)} made" in text and f"the {seat.label.lower()} played by the tool" in text
    assert [each["fate"] for each in data["lapses"]] == [str(lapse.fate) for lapse in d.lapses]


def _near(lapse: LapseFate) -> set[str]:
    lists = {c.id for c in DECK.checklists.values() if lapse.ref in c.lines}
    after = {item.id for item in DECK.items.values() if any(edge.before == lapse.ref for edge in item.after)}
    return {lapse.ref} | lists | after


def test_without_lapses_that_is_said() -> None:
    done = clean_with(FO)
    text = debrief_text(study(done.deck, done.scenario, done.events), "")
    assert "Lapses on purpose none made" in text


def test_of_a_flight_by_people_nothing_of_it_is_said() -> None:
    done = flown("clean")
    d = study(done.deck, done.scenario, done.events)
    assert d.played == () and d.lapses == () and "apse" not in debrief_text(d, "")
