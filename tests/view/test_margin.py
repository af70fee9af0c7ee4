"""The margin as values: what comes first, what is counted, and when each thing came."""

from flowdeck.engine import fold
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.view.margin import Notice, margin, prompts
from tests.engine.test_slips import configured, flight, prepared
from tests.support.bench import CPT, FO, BenchFlight


def rows(f: BenchFlight) -> tuple[Notice, ...]:
    return margin(f.deck, f.session, f.readings, f.now)[0]


def heard(f: BenchFlight, words: str) -> None:
    f.session = fold(f.session, (ev.Heard(at=f.now, words=words),))


def test_identical_slips_are_one_row_with_a_count_and_the_latest_time() -> None:
    f = configured(flight()).wait(5)
    for _ in range(3):
        f.does(FO, "gear-down")
    again = [n for n in rows(f) if n.label == "repeated"]
    assert [(n.ref, n.times) for n in again] == [("gear-down", 3)]
    assert again[0].at == max(d.at for d in f.session.deviations if d.item == "gear-down")


def test_the_same_class_on_another_item_is_another_row() -> None:
    f = configured(flight()).wait(5).does(FO, "gear-down").does(FO, "flap-land")
    assert [(n.ref, n.times) for n in rows(f) if n.label == "repeated"] == [("flap-land", 1), ("gear-down", 1)]


def test_wrong_values_of_one_item_are_counted_though_they_differ() -> None:
    f = flight().wait(1).does(CPT, "speed", 250.0).does(CPT, "speed", 240.0)
    [row] = [n for n in rows(f) if n.label == "unverified"]
    assert row.times == 2 and "240 was keyed" in row.text


def test_warnings_come_before_cautions_and_these_before_advice_and_notes() -> None:
    f = flight(altitude_ft=12000.0).wait(1).does(CPT, "brief").does(FO, "brief")
    f.points(FO, "aids").does(FO, "aids")  # before the speed: panel order only
    f.reads(distance_nm=9.0, ias_kt=230.0).does(FO, "gear-down", gear="down")  # above the limit of the doors
    f.wait(40)
    found = rows(f)
    weights = [n.weight for n in found]
    assert weights == sorted(weights, key=("warning", "caution", "advice", "note").index)
    assert weights[0] == "warning"


def test_what_is_said_from_outside_stands_with_the_cautions_and_newest_first() -> None:
    f = configured(flight()).wait(5).does(FO, "gear-down")
    heard(f, "Cleared to land.")
    assert [n.label for n in rows(f)][:2] == ["heard", "repeated"]
    f.wait(2).does(FO, "flap-land")
    assert [n.label for n in rows(f)][:3] == ["repeated", "heard", "repeated"]


def test_a_prompt_has_the_time_at_which_it_became_due() -> None:
    """The speed is due half a minute after it was opened."""
    f = flight().wait(35)
    [due] = prompts(f.deck, f.session)
    assert due.text == "Captain: Speed is due." and due.at == f.session.item("speed").opened_at + 30_000  # type: ignore[operator]  # it is open


def test_a_prompt_by_distance_has_the_time_at_which_it_was_reached() -> None:
    f = configured(flight()).reads(distance_nm=7.5).wait(20)
    reached = f.now + 500
    f.reads(distance_nm=5.9).wait(3)
    [due] = [n for n in prompts(f.deck, f.session) if "Landing checklist" in n.text]
    assert due.at == reached


def test_a_call_for_the_crew_keeps_its_time() -> None:
    f = prepared(flight(altitude_ft=12000.0))
    f.send(inp.Interrupt(at=f.now, words="Cabin to flight deck", length_s=60))
    at = f.now
    f.reads(distance_nm=9.0).does(FO, "gear-down", gear="down")
    [call] = [n for n in rows(f) if n.label == "call"]
    assert (call.text, call.at) == ("Cabin to flight deck", at)
