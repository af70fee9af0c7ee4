"""Windows that open, close and open again in the rarer ways: answers, standing items, lines, phases come back to."""

import pytest

from flowdeck.engine import decide, start
from flowdeck.engine.fsm import PhaseMachine
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deck import Deck
from flowdeck.model.deviation import Slip, Trapper
from flowdeck.model.diagnostic import Unsettled
from flowdeck.model.readings import Readings
from flowdeck.model.session import Evidence, ListStatus, Status
from tests.engine.test_edges import changed
from tests.engine.test_slips import configured, descending, flight, listed, prepared
from tests.support.bench import CPT, FO, QUIET, BenchFlight
from tests.support.small import APPROACH, GROUND, LANDING, small_deck

LIST = "landing-list"
ANTI_ICE_PHASES = "phases: [approach, landing]"
FIRST_LINE = "      - {line: ll-gear,"


def undoes(f: BenchFlight, seat: object) -> BenchFlight:
    f.send(inp.Undo(at=f.now, seat=seat))  # type: ignore[arg-type]  # one of the two seats
    return f


# Calls and their answers.


def test_a_call_made_again_asks_for_its_answer_again() -> None:
    """Said, answered, taken back and said again: the old answer does not stand for the new call."""
    f = descending(flight()).wait(1).does(FO, "to-go").does(CPT, "to-go-answer")
    undoes(f, FO).wait(1).does(FO, "to-go")
    state = f.session.item("to-go-answer")
    assert (state.status, state.evidence, state.done_at) == (Status.OPEN, None, None)
    assert "to-go-answer" not in f.session.done and "to-go-answer" not in f.session.times
    assert [(e.item, e.because) for e in f.of(ev.ItemReopened)] == [("to-go-answer", "called again")]
    assert f.does(CPT, "to-go-answer").slips() == []


def test_a_call_that_comes_again_and_its_answer_are_owed_anew() -> None:
    """The next level-off: both words again, and the record says why."""
    f = descending(flight()).wait(1).does(FO, "to-go").does(CPT, "to-go-answer")
    f.reads(altitude_ft=9000.0).reads(altitude_ft=5000.0)
    assert f.session.item("to-go").status is Status.OPEN
    assert f.session.item("to-go-answer").status is Status.WAITING
    assert "to-go" not in f.session.done and "to-go-answer" not in f.session.done
    assert [(e.item, e.because) for e in f.of(ev.ItemReopened)] == [("to-go", "again"), ("to-go-answer", "again")]


def test_what_a_call_says_is_kept_with_its_readings() -> None:
    """The words of the moment: the altitude that was selected when it was said."""
    text = changed(APPROACH, "say: One thousand to go", 'say: "One thousand to {selected_altitude_ft}"')
    f = prepared(BenchFlight(small_deck(approach=text)))
    f.reads(selected_altitude_ft=4000.0, altitude_ft=5000.0, vertical_speed_fpm=-900.0).wait(1).does(FO, "to-go")
    assert f.session.item("to-go").shown == "One thousand to 4000"
    f.reads(selected_altitude_ft=6000.0)
    assert f.session.item("to-go").shown == "One thousand to 4000"


@pytest.mark.parametrize(
    ("value", "shown"), [(None, "200"), (150.0, "150"), ("150", "150"), (160.0, "160"), (149.75, "149.75")]
)
def test_what_was_keyed_is_shown_as_keyed(value: float | str | None, shown: str) -> None:
    """The figure of the pilot, else the reading of that moment."""
    f = flight().wait(1)
    f.send(inp.Act(at=f.now, seat=CPT, item="speed", value=value))
    assert f.session.item("speed").shown == shown


def test_what_was_keyed_stands_within_the_words_around_it() -> None:
    """The reading's place in the words is taken by the pilot's figure."""
    text = changed(APPROACH, 'to: "{selected_speed_kt}"', 'to: "bug at {selected_speed_kt}"')
    for value, shown in ((None, "bug at 200"), (160.0, "bug at 160")):
        f = BenchFlight(small_deck(approach=text)).wait(1)
        f.send(inp.Act(at=f.now, seat=CPT, item="speed", value=value))
        assert f.session.item("speed").shown == shown


@pytest.mark.parametrize(("value", "shown"), [(None, ""), (31.0, "31"), ("31", "31"), (30.5, "30.50")])
def test_what_was_keyed_where_nothing_varies_is_kept_as_keyed(value: float | str | None, shown: str) -> None:
    """The state of this item names no reading: only what the pilot keyed is kept beside it."""
    f = prepared(flight()).reads(distance_nm=9.0).does(FO, "gear-down", gear="down")
    f.send(inp.Act(at=f.now, seat=FO, item="flap-land", value=value))
    assert f.session.item("flap-land").shown == shown


# Standing items.


def test_off_is_owed_after_on_was_said_while_its_signal_is_not_heard() -> None:
    """Nobody can see whether the anti-ice is on: it was said to be, so it is to be switched off."""
    f = prepared(flight()).reads(tat_c=8.0, in_cloud=True, engine_anti_ice=None)
    f.does(FO, "anti-ice-on").reads(tat_c=14.0)
    assert f.session.item("anti-ice-off").status is Status.OPEN
    g = prepared(flight()).reads(tat_c=8.0, in_cloud=True, engine_anti_ice=None).reads(tat_c=14.0)
    assert g.session.item("anti-ice-off").status is Status.WAITING


def test_nothing_is_switched_off_that_is_off() -> None:
    """Said to be on and read as off: there is nothing to undo."""
    f = prepared(flight()).reads(tat_c=8.0, in_cloud=True).does(FO, "anti-ice-on").wait(10).reads(tat_c=14.0)
    assert f.session.item("anti-ice-off").status is Status.WAITING


def test_what_is_on_stays_on_through_a_go_around_that_minds_it() -> None:
    """The item matters in the go-around too: its tick, with seat and proof, is not void, and it is not owed again."""
    text = changed(APPROACH, ANTI_ICE_PHASES, "phases: [approach, go_around, landing]")
    f = prepared(BenchFlight(small_deck(approach=text))).reads(tat_c=8.0, in_cloud=True)
    f.does(FO, "anti-ice-on", engine_anti_ice="on").wait(3)
    before = f.session.item("anti-ice-on")
    assert (before.evidence, before.seat) == (Evidence.SEEN, FO)
    f.send(inp.GoAround(at=f.now, seat=CPT))
    assert f.session.item("anti-ice-on") == before
    f.wait(1).tells("again", seat=CPT)
    assert f.session.phase == "approach" and f.session.item("anti-ice-on") == before
    assert "brief" not in f.session.done


def test_what_was_done_of_an_approach_during_its_go_around_is_void_in_the_next() -> None:
    """The briefing given while going around belongs to no approach: the next one is briefed."""
    f = flight().wait(1)
    f.send(inp.GoAround(at=f.now, seat=CPT))
    f.wait(1).does(CPT, "brief").does(FO, "brief")
    assert "brief" in f.session.done and f.raised(Slip.EARLY) == []
    f.tells("again", seat=CPT)
    assert f.session.item("brief").status is Status.OPEN and "brief" not in f.session.done


# Lines.


def test_a_line_with_a_point_asks_for_the_hand_before_the_word() -> None:
    """Answered without pointing it counts, and is said; pointed at first there is nothing to say."""
    text = changed(APPROACH, FIRST_LINE, FIRST_LINE + " point: true,")
    for hand, slips in ((False, [("unverified", "ll-gear")]), (True, [])):
        f = configured(BenchFlight(small_deck(approach=text))).reads(distance_nm=7.5).calls(CPT, LIST).asks(FO, LIST)
        if hand:
            f.points(CPT, "ll-gear")
        f.says(CPT, "ll-gear")
        assert f.slips() == slips and "ll-gear" in f.session.done
        words = [(d.expected, d.actual) for d in f.raised()]
        assert words == [("pointed at before the answer", "answered without pointing")] * len(slips)


def test_a_hold_before_the_completion_keeps_the_list_from_being_over() -> None:
    """Every line is answered, but the list waits for the runway: nobody misses the completion until that is there."""
    hold = '      - {hold: before-end, title: Holding, until: "altitude_ft < 3000"}\n'
    end = "    completion: Landing checklist complete\n"
    text = changed(APPROACH, end, hold + end)
    f = listed(configured(BenchFlight(small_deck(approach=text))))
    assert f.session.list(LIST).all_closed_at is None
    assert f.wait(30).raised(Slip.NO_COMPLETION) == []
    f.reads(altitude_ft=2900.0)
    assert f.session.list(LIST).all_closed_at == f.now
    assert [d.item for d in f.wait(21).raised(Slip.NO_COMPLETION)] == [LIST]


def test_a_fact_that_voids_an_item_voids_the_line_that_rests_on_it() -> None:
    """Another runway: the aids are to be identified again, and their line is to be read again."""
    line = "      - {line: ll-aids, challenge: Aids, respond: IDENTIFIED, by: pilot_monitoring, verifies: aids}\n"
    text = changed(APPROACH, FIRST_LINE, line + FIRST_LINE)
    f = prepared(BenchFlight(small_deck(approach=text))).reads(distance_nm=7.5).calls(CPT, LIST)
    f.asks(FO, LIST).says(FO, "ll-aids")
    assert "ll-aids" in f.session.done
    f.wait(1).tells("runway_changed")
    assert [(e.item, e.because, e.at) for e in f.of(ev.ItemReopened)] == [
        ("aids", "Runway changed", f.now),
        ("ll-aids", "Runway changed", f.now),
    ]
    assert not {"aids", "ll-aids"} & f.session.done
    assert f.asks(FO, LIST).session.item("ll-aids").read_at is not None


def test_undo_says_what_rested_on_it() -> None:
    """The gear is taken back: its line is owed again, and the captain's flap after it is only found, not done."""
    f = prepared(flight()).reads(distance_nm=9.0).does(FO, "gear-down", gear="down")
    f.does(CPT, "flap-land", flap_deg=31.0).reads(distance_nm=7.5).calls(CPT, LIST).asks(FO, LIST).says(CPT, "ll-gear")
    undoes(f, FO)
    assert [(e.item, e.because) for e in f.of(ev.ItemReopened)] == [
        ("ll-gear", "Gear DOWN was taken back"),
        ("flap-land", "Gear DOWN was taken back"),
    ]
    assert not {"gear-down", "ll-gear"} & f.session.done
    assert (f.session.item("flap-land").evidence, f.session.item("flap-land").seat) == (Evidence.FOUND, None)


@pytest.mark.parametrize("kind", ["tick", "point", "deferral", "call", "answer", "hold", "skip", "completion"])
def test_each_act_that_can_be_taken_back_is_named(kind: str) -> None:
    """The record tells what was taken back, of which item or list, and by whom; the rest stands."""
    f = flight().wait(1)
    seat, ref = FO, LIST
    match kind:
        case "tick":
            seat, ref = CPT, "brief"
            f.does(CPT, "brief")
        case "point":
            ref = "aids"
            f.points(FO, "aids")
        case "deferral":
            ref = "aids"
            f.send(inp.Defer(at=f.now, seat=FO, item="aids", in_s=90))
        case _:
            f = configured(flight()).reads(distance_nm=7.5).calls(CPT, LIST)
            if kind == "call":
                seat = CPT
            elif kind == "answer":
                seat = CPT
                f.asks(FO, LIST).says(CPT, "ll-gear")
            elif kind == "hold":
                f.send(inp.HoldList(at=f.now, seat=FO, checklist=LIST))
            elif kind == "skip":
                f.send(inp.SkipLine(at=f.now, seat=FO, checklist=LIST))
            else:
                f.completes(FO, LIST)
    assert (f.session.undo[-1].what, f.session.undo[-1].seat, f.session.undo[-1].ref) == (kind, seat, ref)
    undoes(f, seat)
    assert [(e.what, e.ref, e.seat) for e in f.of(ev.Undone)] == [(kind, ref, seat)]
    assert f.of(ev.Refused) == []


# How often.


def test_how_often_a_thing_was_done_is_counted() -> None:
    """Done, taken back and done again; and once more when a signal shows it after another opening."""
    f = prepared(flight())
    assert f.session.item("aids").times == 1
    f.tells("runway_changed").points(FO, "aids").does(FO, "aids")
    assert f.session.item("aids").times == 2
    g = prepared(flight()).reads(tat_c=8.0, in_cloud=True).reads(engine_anti_ice="on")
    assert (g.session.item("anti-ice-on").evidence, g.session.item("anti-ice-on").times) == (Evidence.SEEN, 1)
    g.reads(engine_anti_ice="off", tat_c=14.0).reads(tat_c=8.0).reads(engine_anti_ice="on")
    assert g.session.item("anti-ice-on").times == 2
    h = listed(configured(flight()))
    assert [h.session.item(line).times for line in ("ll-gear", "ll-altimeters", "ll-flap")] == [1, 1, 1]


# Phases.


def back_and_forth() -> Deck:
    """Vacated, and onto the runway once more: the landing phase is come back to."""
    leads = "{to: parked, when: \"done('ground-list')\"}"
    ground = changed(GROUND, leads, leads + '\n  - {to: landing, when: "near_runway"}')
    return small_deck(ground=ground, landing=changed(LANDING, '"vacated"', '"vacated and not near_runway"'))


@pytest.mark.parametrize("back", [False, True])
def test_what_was_omitted_can_be_made_good_later(back: bool) -> None:
    """No reverse before the runway was vacated; seen afterwards, in the next phase or back in its own."""
    f = listed(configured(BenchFlight(back_and_forth()))).completes(FO, LIST)
    f.reads(height_aal_ft=390.0, altitude_ft=820.0).does(FO, "missed", selected_altitude_ft=3000.0)
    f.does(FO, "minimum").does(CPT, "minimum-answer").reads(on_ground=True).does(FO, "cabin")
    f.tells("vacated", seat=FO)
    assert f.session.phase == "ground" and f.session.item("reverse").status is Status.LAPSED
    assert [(d.item, d.trapped_by) for d in f.raised(Slip.OMITTED)] == [("reverse", None)]
    if back:
        f.values.update(reverse="full")
        f.send(inp.Tell(at=f.now, fact="near_runway", seat=FO))
    else:
        f.reads(reverse="full")
    assert f.session.item("reverse").evidence is Evidence.SEEN
    assert f.raised(Slip.OMITTED)[0].trapped_by is Trapper.TOOL


def test_a_list_of_a_phase_that_is_left_is_closed_and_said() -> None:
    """Not called before the approach ended: not called, and no longer to be called in the lane."""
    f = configured(flight()).reads(distance_nm=7.5).reads(height_aal_ft=390.0)
    f.does(FO, "minimum").does(CPT, "minimum-answer")
    assert f.session.phase == "landing"
    assert f.session.list(LIST).status is ListStatus.LAPSED
    assert [d.item for d in f.raised(Slip.NOT_CALLED)] == [LIST]
    f.calls(CPT, LIST)
    assert f.session.list(LIST).status is ListStatus.CALLED


def test_a_deck_that_runs_in_circles_says_so_and_does_not_hang() -> None:
    """Two phases that lead to each other at once: an error that names the time and what keeps being made."""
    landing = changed(LANDING, '  - {to: ground, when: "vacated"}', '  - {to: ground, when: "vacated"}\n'
                      '  - {to: approach, when: "wet"}')  # fmt: skip
    approach = changed(APPROACH, "leads_to:\n", 'leads_to:\n  - {to: landing, when: "wet"}\n')
    deck = small_deck(landing=landing, approach=approach)
    readings = Readings().heard(QUIET, 0)
    session, _ = start(deck, readings, flying=CPT, solo=False)
    with pytest.raises(Unsettled, match=r"does not come to rest at 700 ms; it keeps making: .*PhaseEntered"):
        decide(deck, session, readings, inp.Tell(at=700, fact="wet", seat=CPT))


def test_a_gate_can_come_before_an_item() -> None:
    """Landing flap only after the gate, while the gate is owed: before it the flap is out of order, after it not."""
    edge = "{item: gear-down, order: hard, kind: safety, reason: The warning for gear stays silent otherwise.}"
    gate = "{item: stable, order: hard, kind: safety, reason: The gate comes first.}"
    for when, broken in (("", ["flap-land"]), ('    when: "not wet"\n', []), ('    unless: "wet"\n', [])):
        text = changed(APPROACH, edge, gate)
        text = changed(text, '    at: "height_aal_ft <= 1000"\n', '    at: "height_aal_ft <= 1000"\n' + when)
        f = prepared(BenchFlight(small_deck(approach=text))).reads(distance_nm=9.0).tells("wet", seat=FO)
        f.does(FO, "flap-land", flap_deg=31.0)
        assert [d.item for d in f.raised(Slip.OUT_OF_ORDER)] == broken, when


def test_a_gate_whose_height_is_passed_already_is_judged_on_entering_its_phase() -> None:
    """The landing phase begins at 390 ft, below its own gate: judged at once, and not once more later."""
    gate = """
gates:
  - gate: low
    title: Landing gate
    at: "height_aal_ft <= 500"
    must:
      - {that: "gear == 'down'", words: gear}
    fail: {go: go_around, within_s: 6}
    why: Nothing is changed so low.
"""
    for gear, kind in (("down", ev.GatePassed), ("up", ev.GateFailed)):
        f = listed(configured(BenchFlight(small_deck(landing=LANDING + gate)))).completes(FO, LIST)
        f.reads(height_aal_ft=390.0, altitude_ft=820.0, gear=gear).does(FO, "minimum")
        assert "low" not in f.session.gates
        f.does(CPT, "minimum-answer")
        assert [(type(e), e.gate) for e in f.events if isinstance(e, (ev.GatePassed, ev.GateFailed))][-1:] == [
            (kind, "low")
        ]
        count = len(f.of(kind))
        f.reads(height_aal_ft=600.0).reads(height_aal_ft=300.0)
        assert len(f.of(kind)) == count


def test_a_flight_that_begins_below_a_gate_is_not_judged_by_it() -> None:
    """Nobody has flown past it: the exercise begins at 900 ft, and its gate asks nothing."""
    f = flight(height_aal_ft=900.0).wait(5)
    assert f.session.gates == {} and f.raised(Slip.GATE_FAILED) == []


def test_no_deck_without_a_go_around_stumbles_over_the_question() -> None:
    """Where no phase is airborne nobody goes around, and asking is quiet."""
    deck = small_deck()
    machine = PhaseMachine(deck)
    assert machine.where_to("parked", "go_around", [True] * len(deck.conditions)) is None
    assert machine.where_to("ground", "go_around", [False] * len(deck.conditions)) is None
