"""The board: what is projected from a session for the screen, checked as values."""

from flowdeck.engine.work import said
from flowdeck.model import inputs as inp
from flowdeck.view.board import Board, make_board
from flowdeck.view.lanes import Row
from flowdeck.view.words import plain, safe, value_text
from tests.engine.test_edges import changed
from tests.engine.test_slips import configured, flight, prepared
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.small import APPROACH, DECK, small_deck


def board(f: BenchFlight) -> Board:
    return make_board(f.deck, f.session, f.readings, f.now)


def test_skipped_lines_and_held_lists_stay_visible() -> None:
    """A list on hold is a tab with what it waits for until it is resumed; a skipped line is told at its end."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list")
    f.send(inp.SkipLine(at=f.now, seat=FO, checklist="landing-list"))
    f.send(inp.HoldList(at=f.now, seat=FO, checklist="landing-list"))
    [tab] = board(f).tabs
    assert tab.title == "Landing checklist"
    f.send(inp.ResumeList(at=f.now, seat=FO, checklist="landing-list"))
    assert board(f).tabs == () and board(f).pane is not None
    f.asks(FO, "landing-list").says(CPT, "ll-altimeters").says(FO, "ll-altimeters")
    f.asks(FO, "landing-list").says(CPT, "ll-flap").completes(FO, "landing-list")
    assert any(n.label == "omitted" and "Gear" in n.text for n in board(f).margin)


def test_sterile_holds_advice_back_and_counts_it() -> None:
    """Below 10,000 ft an advice is only counted; above it is shown. Cautions are shown in both."""
    for altitude, held, shown in ((5000.0, 1, False), (12000.0, 0, True)):
        f = flight(altitude_ft=altitude).wait(1).does(CPT, "brief").does(FO, "brief")
        f.points(FO, "aids").does(FO, "aids")
        f.does(FO, "gear-down", gear="down")
        b = board(f)
        assert b.held_back == held
        assert any(n.label == "flow order" for n in b.margin) is shown
        assert any(n.label == "early" for n in b.margin)


def test_a_safety_report_is_shown_in_the_sterile_period() -> None:
    f = flight(altitude_ft=5000.0).wait(1)
    f.send(inp.Interrupt(at=f.now, words="Smoke in the cabin", length_s=20, safety=True))
    assert [(n.label, n.text) for n in board(f).margin] == [("safety", "Smoke in the cabin")]


def test_the_datum_of_the_sterile_period_is_the_decks() -> None:
    """A high aerodrome: the deck may count from the field, and then 12,000 ft above the sea is sterile too."""
    high = small_deck(deck=DECK.replace("altitude_ft < 10000", "height_aal_ft < 10000"))
    f = BenchFlight(high, altitude_ft=12000.0, height_aal_ft=6600.0)
    f.wait(1).does(CPT, "brief").does(FO, "brief").points(FO, "aids").does(FO, "aids")
    assert board(f).held_back == 1


def test_a_stale_reading_is_dim_with_its_age() -> None:
    f = prepared(flight())
    f.silent.add("ias_kt")
    f.wait(8)
    [cell] = [c for c in board(f).strip if c.name == "ias"]
    assert cell.age_s is not None and cell.age_s >= 8 and cell.value == "200"


def test_blocked_items_say_what_they_wait_for() -> None:
    f = prepared(flight()).reads(distance_nm=9.0)
    rows = [row for row in (board(f).lanes[1].next, *board(f).lanes[1].ahead) if row is not None]
    [flap] = [row for row in rows if row.ref == "flap-land"]
    assert flap.kind is Row.BLOCKED and "Gear" in flap.note


def test_evidence_shows_in_the_lane() -> None:
    """Said, seen and found are three marks."""
    f = prepared(flight(flap_deg=31.0)).reads(distance_nm=9.0).does(FO, "gear-down", gear="down")
    past = {row.ref: row.kind for lane in board(f).lanes for row in lane.past}
    assert (past["brief"], past["gear-down"], past["flap-land"]) == (Row.SAID, Row.SEEN, Row.FOUND)


def test_a_trapped_slip_is_a_note() -> None:
    f = flight(altitude_ft=12000.0).wait(61).does(CPT, "brief").does(FO, "brief")
    assert [n.weight for n in board(f).margin if n.label == "late"] == ["caution"]
    f.does(CPT, "speed", selected_speed_kt=150.0)
    assert [n.weight for n in board(f).margin if n.label == "late"] == ["note"]


def test_words() -> None:
    """Conditions and values as a pilot says them; control characters are shown, never obeyed."""
    deck = small_deck()
    number = deck.checklists["landing-list"].opens
    assert plain(deck, number) == "dist \u2264 8 NM"
    assert value_text(5.26, "nm") == "5.3" and value_text(112.35, "mhz") == "112.35" and value_text(None) == "?"
    assert safe("a\x1b[31mb\n") == "a<U+001B>[31mb "


def test_the_strip_does_not_show_what_cannot_be_known() -> None:
    """A selector that was turned and is heard no more: not its old number, although that is not stale yet."""
    text = changed(APPROACH, "strip: [altitude_ft, ias_kt]", "strip: [selected_speed_kt, ias_kt]")
    f = BenchFlight(small_deck(approach=text)).wait(1)
    f.send(inp.Act(at=f.now, seat=CPT, item="speed", value=150.0))

    def shown() -> str:
        return board(f).strip[0].value

    f.silent.add("selected_speed_kt")
    f.now += 500
    f.send(inp.Sample(at=f.now))
    assert shown() == "200"  # it takes a second to turn
    f.wait(1)
    assert shown() == "?"
    f.silent.clear()
    f.reads(selected_speed_kt=150.0)
    assert shown() == "150"


def test_a_held_list_whose_wait_is_over_is_to_be_resumed() -> None:
    """Held for the flap, it says what it waits for; once the flap is there it says that it is to be resumed."""
    f = prepared(flight(flap_deg=11.0)).reads(distance_nm=7.5).does(FO, "gear-down", gear="down")
    f.calls(CPT, "landing-list").asks(FO, "landing-list").says(CPT, "ll-gear")
    f.asks(FO, "landing-list").says(CPT, "ll-altimeters").says(FO, "ll-altimeters")
    f.send(inp.HoldList(at=f.now, seat=FO, checklist="landing-list"))
    assert [tab.waits for tab in board(f).tabs] == ["waits for flap 31"]
    f.does(FO, "flap-land", flap_deg=31.0)
    assert [tab.waits for tab in board(f).tabs] == ["to be resumed"]


def test_calls_say_whole_numbers_without_decimals() -> None:
    """A height of 136.00 is 136; a distance keeps its tenth, a frequency both decimals."""
    assert [said(136.0, "ft"), said(136.4, "ft"), said(5.26, "nm"), said(112.35, "mhz")] == [
        "136",
        "136",
        "5.3",
        "112.35",
    ]
