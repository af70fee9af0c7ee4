"""The vertical path as the screen draws it: planned and flown, what fixes ask, and the figures to be watched.

Altitudes are those that the altimeter shows: what only the simulation knows is not told to the crew.
"""

from collections.abc import Mapping, Sequence

from msgspec import Struct

from flowdeck.arrival.descent import path_altitude_ft
from flowdeck.arrival.monitor import Watch
from flowdeck.model.condition import Scalar
from flowdeck.model.scenario import Aerodrome
from flowdeck.view.words import safe

SCALES_NM = (4.0, 8.0, 16.0, 32.0, 64.0, 128.0, 256.0)
"""Each splits into four whole parts."""
ALTIMETER_FT = 150.0
"""By how much altimeter and radio height may differ where no arrival says it (our proposal)."""
_SAMPLES = 120


class FixMark(Struct, frozen=True, kw_only=True):
    name: str
    distance_nm: float
    low_ft: float | None
    high_ft: float | None


class Line(Struct, frozen=True):
    """A figure beside the drawing; *weight* as in the margin."""

    title: str
    value: str
    weight: str = "plain"


class PathView(Struct, frozen=True, kw_only=True):
    """*planned* and *flown* as (NM to the threshold, ft), *here* the aeroplane, None when it is not known."""

    far_nm: float
    low_ft: float
    high_ft: float
    planned: tuple[tuple[float, float], ...]
    flown: tuple[tuple[float, float], ...]
    here: tuple[float, float] | None
    fixes: tuple[FixMark, ...]
    lines: tuple[Line, ...]


def make_path(
    shown: Mapping[str, Scalar | None], place: Aerodrome, watch: Watch | None, flown: Sequence[tuple[float, float]]
) -> PathView:
    """The view at this moment, by what is *shown*. *flown*: distances and shown altitudes so far, oldest first.

    Without a *watch* the plan is the final path alone.
    """
    distance, altitude = _number(shown.get("distance_nm")), _number(shown.get("altitude_ft"))
    far = next((scale for scale in SCALES_NM if distance is not None and distance < scale * 0.95), SCALES_NM[-1])
    planned = _planned(place, watch, far)
    seen = tuple((d, a) for d, a in flown if d <= far)
    floor = place.elevation_ft
    heights = [a for _, a in (*planned, *seen)] + ([altitude] if altitude is not None else [])
    here = None if distance is None or altitude is None else (distance, altitude)
    return PathView(
        far_nm=far,
        low_ft=floor,
        high_ft=max([*heights, floor + 1000.0]) * 1.03,
        planned=planned,
        flown=seen,
        here=here,
        fixes=_fixes(watch, far),
        lines=(*_top(watch, distance), *_lines(shown, place, watch)),
    )


def _planned(place: Aerodrome, watch: Watch | None, far: float) -> tuple[tuple[float, float], ...]:
    points = []
    for i in range(_SAMPLES + 1):
        nm = far * i / _SAMPLES
        if watch is not None:
            ft = watch.planned_ft(nm)
        else:
            ft = path_altitude_ft(nm, place.angle_deg, place.elevation_ft) if nm <= place.fix_nm else None
        if ft is not None:
            points.append((nm, ft))
    return tuple(points)


def _fixes(watch: Watch | None, far: float) -> tuple[FixMark, ...]:
    if watch is None:
        return ()
    return tuple(
        FixMark(name=safe(fix.name), distance_nm=fix.distance_nm, low_ft=low, high_ft=high)
        for fix, low, high in watch.asked()
        if fix.distance_nm <= far
    )


def _top(watch: Watch | None, distance: float | None) -> tuple[Line, ...]:
    """How far it is to the beginning of the descent, while that lies ahead."""
    top = None if watch is None else watch.top_nm
    if top is None or distance is None or distance <= top:
        return ()
    return (Line("begin the descent in", f"{distance - top:.1f} NM"),)


def _lines(v: Mapping[str, Scalar | None], place: Aerodrome, watch: Watch | None) -> tuple[Line, ...]:
    """What follows from the readings, in the order in which it is looked at."""
    tolerance_ft = ALTIMETER_FT if watch is None else watch.altimeter_tolerance_ft
    found: list[Line] = []

    def number(name: str) -> float | None:
        return _number(v.get(name))

    above = number("height_above_path_ft")
    if above is not None:
        found.append(Line("above the plan" if above >= 0 else "below the plan", f"{abs(above):.0f} ft"))
    table = number("planned_table_ft")
    if table is not None and above is not None and (number("distance_nm") or 99) < place.fix_nm + 0.5:  # inside the fix
        found.append(Line("table here", f"{table:.0f} ft"))
    rate = number("required_rate_fpm")
    if rate is not None:
        found.append(Line("rate to the next fix", f"{round(rate, -1):.0f} ft/min"))
    there, missed, away = number("next_fix_ft"), number("next_fix_miss_ft"), number("next_fix_nm")
    if there is not None and missed is not None and away is not None:
        fits = "fits" if abs(missed) < 50 else f"{abs(missed):.0f} ft {'high' if missed > 0 else 'low'}"
        found.append(Line(f"next fix, in {away:.1f} NM", fits, "plain" if fits == "fits" else "strong"))
    gate, speed = number("gate_in_s"), number("gate_speed_kt")
    if gate is not None and speed is not None:
        stable = v.get("gate_stable") is True
        when = f"{int(gate) // 60}:{int(gate) % 60:02}"
        found.append(Line(f"gate in {when}", f"{speed:.0f} kt, {'stable' if stable else 'not stable'}"))
    least, most = number("flap_margin_kt"), number("limit_margin_kt")
    if least is not None:
        found.append(Line("above flap minimum", f"{least:.0f} kt", "strong" if least < 0 else "plain"))
    if most is not None:
        found.append(Line("below flap limit", f"{most:.0f} kt", "strong" if most < 0 else "plain"))
    error = number("altimeter_error_ft")
    if error is not None and v.get("on_ground") is not True:
        off = abs(error) > tolerance_ft
        found.append(
            Line("altimeter, radio height", f"{error:+.0f} ft" if off else "agree", "strong" if off else "plain")
        )
    return tuple(found)


def _number(value: object) -> float | None:
    return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else None
