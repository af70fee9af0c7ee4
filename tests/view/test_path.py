"""The vertical path as it is drawn: what is shown, and no more than that."""

from msgspec.structs import replace

from flowdeck.aircraft.watch import watch_of
from flowdeck.trial.flight import Flight
from flowdeck.tui.widgets.path import SIDE, drawn
from flowdeck.view.path import PathView, make_path
from tests.support.moments import flown_until

FLOWN = ((20.0, 4200.0), (12.0, 2600.0), (9.0, 2500.0))


def at(scenario: str, nm: float) -> Flight:
    return flown_until(scenario, lambda f: f.plane.distance_nm <= nm)


def view(flight: Flight, flown: tuple[tuple[float, float], ...] = FLOWN) -> PathView:
    watch = watch_of(flight.scenario, flight.plane)
    return make_path(flight.readings.values, flight.scenario.place, watch, flown)


def lines(shown: PathView) -> dict[str, str]:
    return {line.title: line.value for line in shown.lines}


def text(shown: PathView, width: int, height: int) -> list[str]:
    return ["".join(segment.text for segment in row) for row in drawn(shown, width, height)]


def test_the_scale_follows_the_distance() -> None:
    assert [view(at("clean", nm)).far_nm for nm in (60, 25, 9, 5, 2)] == [64, 32, 16, 8, 4]


def test_what_the_simulation_alone_knows_is_not_told() -> None:
    """Ten hPa too low, the altimeter agrees with the plan; only the radio height tells another story."""
    shown = view(at("wrong-pressure", 4.5))
    assert abs(float(lines(shown)["table here"].split()[0]) - shown.here[1]) < 40 if shown.here else False
    assert lines(shown)["altimeter, radio height"] == "+273 ft"


def test_without_an_arrival_the_final_path_is_drawn_and_nothing_is_made_up() -> None:
    shown = view(at("icing", 5))
    assert shown.planned
    assert shown.fixes == ()
    assert set(lines(shown)) <= {"altimeter, radio height"}


def test_fixes_stand_with_what_they_ask_corrected_for_cold() -> None:
    fixes = {fix.name: (fix.low_ft, fix.high_ft) for fix in view(at("cold", 8)).fixes}
    assert fixes["GRIMO"] == (3900, None)
    assert fixes["ALDRI"] == (3900, 3900)


def test_the_drawing_has_planned_flown_and_now() -> None:
    drawing = text(view(at("clean", 8.5)), 110, 12)
    assert len(drawing) == 12
    assert max(map(len, drawing)) <= 110
    body = "\n".join(row[: 110 - SIDE] for row in drawing)
    assert body.count("\u25b6") == 1
    assert "LUMIT" in drawing[0] and "NOLDE" in drawing[0]
    assert any("\u2801" <= c <= "\u28ff" for c in body)
    assert drawing[-1].split() == ["16", "12", "8", "4", "0", "NM"]
    assert "above the plan" in drawing[1] or "below the plan" in drawing[1]


def test_a_narrow_one_leaves_the_figures_out_and_a_tiny_one_draws_nothing() -> None:
    shown = view(at("clean", 8.5))
    assert not any("the plan" in row for row in text(shown, 70, 12))
    assert text(shown, 20, 12) == [] == text(shown, 110, 4)


def test_nothing_is_drawn_where_nothing_is_known() -> None:
    shown = view(at("clean", 8.5), ())
    bare = replace(shown, planned=(), flown=(), here=None, fixes=(), lines=())
    assert not any("\u2800" <= c <= "\u28ff" for row in text(bare, 110, 12) for c in row)
