"""Flights of the small deck that have come to a slip, each by its own way."""

from flowdeck.model import inputs as inp
from tests.engine.test_edges import changed
from tests.engine.test_slips import configured, flight, listed, on_ground, prepared
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.small import APPROACH, small_deck

LIST = "landing-list"


def called() -> BenchFlight:
    return configured(flight()).reads(distance_nm=7.5).calls(CPT, LIST)


def asked() -> BenchFlight:
    return called().asks(FO, LIST)


def complete() -> BenchFlight:
    return listed(configured(flight())).completes(FO, LIST)


def unlisted() -> BenchFlight:
    """Near the field with the gear up, its list called and the gear line read."""
    return prepared(flight()).reads(distance_nm=7.5).calls(CPT, LIST).asks(FO, LIST)


def past_the_hold() -> BenchFlight:
    f = prepared(flight()).reads(distance_nm=9.0).does(FO, "gear-down", gear="down").reads(distance_nm=7.5)
    f.calls(CPT, LIST).asks(FO, LIST).says(CPT, "ll-gear").asks(FO, LIST)
    return f.says(CPT, "ll-altimeters").says(FO, "ll-altimeters").asks(FO, LIST)


def resumed_too_soon() -> BenchFlight:
    f = prepared(flight()).reads(distance_nm=9.0).does(FO, "gear-down", gear="down").reads(distance_nm=7.5)
    f.calls(CPT, LIST).asks(FO, LIST).says(CPT, "ll-gear").asks(FO, LIST)
    f.says(CPT, "ll-altimeters").says(FO, "ll-altimeters")
    f.send(inp.HoldList(at=f.now, seat=FO, checklist=LIST))
    f.send(inp.ResumeList(at=f.now, seat=FO, checklist=LIST))
    return f


def completed_on_hold() -> BenchFlight:
    f = prepared(flight()).reads(distance_nm=9.0).does(FO, "gear-down", gear="down").reads(distance_nm=7.5)
    f.calls(CPT, LIST).asks(FO, LIST).says(CPT, "ll-gear").asks(FO, LIST)
    f.says(CPT, "ll-altimeters").says(FO, "ll-altimeters")
    f.send(inp.HoldList(at=f.now, seat=FO, checklist=LIST))
    return f.completes(FO, LIST)


def burst() -> BenchFlight:
    f = called().asks(FO, LIST, 0.1).says(CPT, "ll-gear", after_s=0.1)
    f.asks(FO, LIST, 0.1).says(CPT, "ll-altimeters", after_s=0.1)
    return f.says(FO, "ll-altimeters", after_s=0.1)


def skipped() -> BenchFlight:
    f = called()
    f.send(inp.SkipLine(at=f.now, seat=FO, checklist=LIST))
    f.asks(FO, LIST).says(CPT, "ll-altimeters").says(FO, "ll-altimeters").asks(FO, LIST)
    return f.completes(FO, LIST)


def near_a_runway(f: BenchFlight) -> BenchFlight:
    return f.tells("near_runway", seat=FO)


def held_to_the_end() -> BenchFlight:
    f = called()
    f.send(inp.HoldList(at=f.now, seat=FO, checklist=LIST))
    return f.reads(height_aal_ft=890.0)


def without_power() -> BenchFlight:
    f = on_ground(flight()).reads(ground_power=False).does(CPT, "brake", parking_brake="set")
    return f.does(FO, "cut", fuel_lever_1="cutoff")


def lost(**put_off: object) -> BenchFlight:
    f = on_ground(flight())
    f.send(inp.Defer(at=f.now, seat=FO, item="papers", **put_off))  # type: ignore[arg-type]  # a cue or seconds
    return f.wait(75)


def said_only() -> BenchFlight:
    """A gear that nothing moves: it is only said, and looked at in the same moment."""
    approach = changed(APPROACH, "        moves: {gear: down, in_s: 6}\n", "")
    return prepared(BenchFlight(small_deck(approach=approach))).reads(distance_nm=9.0).does(FO, "gear-down")


def left_landing() -> BenchFlight:
    """Vacated with no reverse and with the cabin not told."""
    f = complete().reads(height_aal_ft=390.0, altitude_ft=820.0).does(FO, "missed", selected_altitude_ft=3000.0)
    f.does(FO, "minimum").does(CPT, "minimum-answer").reads(on_ground=True)
    return f.tells("vacated", seat=FO)


def icing() -> BenchFlight:
    return prepared(flight()).reads(tat_c=8.0, in_cloud=True)


def in_the_clear() -> BenchFlight:
    f = icing().does(FO, "anti-ice-on", engine_anti_ice="on").reads(in_cloud=False)
    return f.wait(162)


def begun() -> BenchFlight:
    return flight().wait(1)


def briefed() -> BenchFlight:
    return begun().does(CPT, "brief").does(FO, "brief")


def briefed_twice() -> BenchFlight:
    """By the captain, and never by the first officer."""
    return begun().does(CPT, "brief").does(CPT, "brief")


def transferred_by_the_wrong_one() -> BenchFlight:
    f = begun()
    f.send(inp.Transfer(at=f.now, seat=FO, part="offer"))
    return f
