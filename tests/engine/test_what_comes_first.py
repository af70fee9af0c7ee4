"""What must come before something else: lists and gates as well as items, and a hold at the end of a list."""

import pytest

from flowdeck.engine.owed import Duty, owed
from flowdeck.engine.program import program
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip
from flowdeck.model.readings import Readings
from tests.engine.test_edges import changed
from tests.engine.test_slips import configured, flight, listed, on_ground, prepared
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.small import APPROACH, small_deck

LIST = "landing-list"
GEAR_FIRST = "{item: gear-down, order: hard, kind: safety, reason: The warning for gear stays silent otherwise.}"
LIST_FIRST = f"{{item: {LIST}, order: hard, kind: safety, reason: The list comes first.}}"
OPENS = '    opens: "distance_nm <= 8"\n'


def missed_after_the_list(owed_when: str = "") -> BenchFlight:
    """The missed-approach altitude only after the landing list, as long as that list is owed."""
    early = "        early: The autopilot would level off.\n"
    text = changed(APPROACH, early, early + f"        after: [{LIST_FIRST}]\n")
    text = changed(text, OPENS, OPENS + owed_when)
    return configured(BenchFlight(small_deck(approach=text))).reads(distance_nm=7.5, altitude_ft=2400.0)


@pytest.mark.parametrize(
    ("owed_when", "broken"),
    [("", ["missed"]), ('    when: "not wet"\n', []), ('    unless: "wet"\n', []), ('    when: "wet"\n', ["missed"])],
)
def test_a_list_can_come_before_an_item(owed_when: str, broken: list[str]) -> None:
    """Out of order while the list is owed; a list that is not owed now holds nothing up."""
    f = missed_after_the_list(owed_when).tells("wet", seat=FO)
    [duty] = [d for d in owed(f.deck, f.session) if d.ref == "missed"]
    assert duty.waits_for == ((LIST,) if broken else ())
    f.does(FO, "missed", selected_altitude_ft=3000.0)
    assert [d.item for d in f.raised(Slip.OUT_OF_ORDER)] == broken
    assert [d.expected for d in f.raised(Slip.OUT_OF_ORDER)] == ["Landing checklist first"] * len(broken)


def test_after_the_list_it_is_in_order() -> None:
    f = listed(missed_after_the_list()).completes(FO, LIST).does(FO, "missed", selected_altitude_ft=3000.0)
    assert f.raised(Slip.OUT_OF_ORDER) == []


def test_a_list_waits_for_its_own_predecessor() -> None:
    """Called before the flap that should come first: taken, and judged on the list."""
    edge = "    after: [{item: flap-land, order: hard, kind: safety, reason: It verifies the flap.}]\n"
    deck = small_deck(approach=changed(APPROACH, OPENS, OPENS + edge))
    f = prepared(BenchFlight(deck)).reads(distance_nm=7.5)
    [duty] = [d for d in owed(f.deck, f.session) if d.ref == LIST]
    assert duty.waits_for == ("flap-land",)
    f.calls(CPT, LIST)
    [broken] = f.raised(Slip.OUT_OF_ORDER)
    assert (broken.item, broken.seat, broken.expected, broken.actual, broken.reason) == (
        LIST,
        CPT,
        "Flap 31 first",
        "Landing checklist came before it",
        "It verifies the flap.",
    )


def test_a_hold_at_the_end_is_to_be_held_until_it_is_met() -> None:
    """All lines are answered: the reader holds, and says complete only once the altitude is there."""
    end = "    completion: Landing checklist complete\n"
    hold = '      - {hold: before-end, title: Holding, until: "altitude_ft < 3000"}\n'
    f = listed(configured(BenchFlight(small_deck(approach=changed(APPROACH, end, hold + end)))))
    assert [(d.duty, d.seat) for d in owed(f.deck, f.session) if d.ref == LIST] == [(Duty.HOLD, FO)]
    f.reads(altitude_ft=2900.0)
    assert [(d.duty, d.seat) for d in owed(f.deck, f.session) if d.ref == LIST] == [(Duty.COMPLETE, FO)]


def test_what_comes_back_names_what_brought_it_back() -> None:
    """The cue by its name, and time as time."""
    f = on_ground(flight())
    f.send(inp.Defer(at=f.now, seat=FO, item="papers", cue="on-ground"))
    f.wait(1)
    assert [(e.item, e.cue) for e in f.of(ev.CueCame)] == [("papers", "on-ground")]
    g = on_ground(flight())
    g.send(inp.Defer(at=g.now, seat=FO, item="papers", in_s=1))
    g.wait(2)
    assert [(e.item, e.cue) for e in g.of(ev.CueCame)] == [("papers", "time")]


@pytest.mark.parametrize("name", ["gear", "tat_c"])
def test_a_signal_is_stale_a_millisecond_after_its_time_and_not_before(name: str) -> None:
    """Unheard for its own time it is still a reading; a millisecond more and it is none, whatever else is heard."""
    p = program(small_deck())
    limit = p.signals[name].stale_s
    assert limit is not None
    last = 1000 + round(limit * 1000)
    readings = Readings().heard({name: 3.0, "ias_kt": 200.0}, 1000).heard({"ias_kt": 200.0}, last)
    assert (p.sense(readings, last)[name], p.sense(readings, last + 1)[name]) == (3.0, None)
    assert p.sense(readings, last + 1)["ias_kt"] == 200.0


def test_a_line_that_was_passed_over_stays_so_in_the_next_phase() -> None:
    """The gear shows down, but its line was skipped and never read: no signal answers a line."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, LIST)
    f.send(inp.SkipLine(at=f.now, seat=FO, checklist=LIST))
    f.reads(height_aal_ft=390.0).does(FO, "minimum").does(CPT, "minimum-answer").wait(2)
    assert f.session.phase == "landing"
    assert f.session.item("ll-gear").skipped and not f.session.item("ll-gear").is_done
    assert "ll-gear" not in f.session.done


def test_what_is_true_from_the_start_has_not_come_true() -> None:
    """In the air at once with the gear down and on the ground in one reading: no mark is passed by beginning so."""
    f = BenchFlight(small_deck(), on_ground=True)
    assert f.of(ev.MarkPassed) == []
    f.wait(1)
    assert f.of(ev.MarkPassed) == []
    assert [e.mark for e in f.reads(on_ground=False).reads(on_ground=True).of(ev.MarkPassed)] == ["touchdown"]
