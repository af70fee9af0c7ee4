"""The aeroplane at one moment, as a value."""

import zlib
from base64 import b85decode, b85encode

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from flowdeck.arrival.altimetry import HIGHEST_FT, cold_correction_ft
from flowdeck.model.condition import Scalar
from flowdeck.model.scenario import SURROUNDINGS, Scenario

FEET_PER_HPA = 27.3
"""Near sea level (from memory); the aeroplane uses it at all heights."""


class Travel(Struct, frozen=True, kw_only=True):
    """A control on its way: from *start* to *goal*, times in ms."""

    signal: str
    start: Scalar
    goal: Scalar
    begun: int
    ends: int


class Fault(Struct, frozen=True, kw_only=True):
    """A signal held at a value (None: failed), until a time or for good."""

    value: Scalar | None
    until: int | None


class Lent(Struct, frozen=True, kw_only=True):
    """What surrounds the flight for a time: *value* until then (ms), and what it was *before*."""

    value: Scalar
    before: Scalar
    until: int


class Aeroplane(Struct, frozen=True, kw_only=True):
    """True altitude (ft above sea level), distance to the threshold by the way to be flown (NM), speeds (kt, ft/min).

    *controls* hold what the crew can move, *around* what surrounds the flight. *rolled_m* counts from the
    threshold, in the air and on the ground, *taxied_m* from the runway. *moved* keeps what an item moved, so that
    it can be taken back.

    *field_ft* is the elevation of the aerodrome. *plan* holds numbers of the plan that have changed since the start,
    *revised* the happening by which the arrival is another one, *report* a weather report that was given since.
    """

    at: int
    distance_nm: float
    altitude_ft: float
    ias_kt: float
    vertical_fpm: float
    heading_deg: float
    fuel_kg: float
    mass_kg: float
    on_ground: bool = False
    groundspeed_kt: float = 0.0
    rolled_m: float = 0.0
    taxied_m: float = 0.0
    decel_kt_s: float = 0.0
    turning_1: float = 90.0
    turning_2: float = 90.0
    controls: dict[str, Scalar]
    around: dict[str, Scalar]
    travels: tuple[Travel, ...] = ()
    faults: dict[str, Fault] = {}
    lent: dict[str, Lent] = {}
    moved: dict[str, tuple[tuple[str, Scalar], ...]] = {}
    field_ft: float = 0.0
    plan: dict[str, Scalar] = {}
    revised: str = ""
    report: str = ""

    def control(self, name: str) -> Scalar:
        """What a control is at, a fault beating the crew."""
        fault = self.faults.get(name)
        if fault is not None and fault.value is not None:
            return fault.value
        return self.controls[name]

    def number(self, name: str) -> float:
        return float(self.control(name))

    def about(self, name: str) -> float:
        return float(self.around.get(name, SURROUNDINGS[name]))


INITIAL: dict[str, Scalar] = {
    "selected_altitude_ft": 17000.0,
    "selected_heading_deg": 0.0,
    "selected_speed_kt": 280.0,
    "pressure_left_hpa": 1013.0,
    "pressure_right_hpa": 1013.0,
    "pressure_standby_hpa": 1013.0,
    "minimum_left_ft": 0.0,
    "minimum_right_ft": 0.0,
    "nav_left_mhz": 108.0,
    "nav_right_mhz": 108.0,
    "course_left_deg": 0.0,
    "course_right_deg": 0.0,
    "lateral_mode": "track",
    "vertical_mode": "hold",
    "autopilot": "on",
    "autothrottle": "on",
    "fd_left": "on",
    "fd_right": "on",
    "flap_deg": 0.0,
    "gear": "up",
    "speedbrake": "in",
    "spoilers": "stowed",
    "autobrake": "off",
    "reverse": "stowed",
    "engine_anti_ice": "off",
    "wing_anti_ice": "off",
    "parking_brake": "off",
    "fuel_lever_1": "run",
    "fuel_lever_2": "run",
    "apu_state": "off",
    "fuel_pump_1": "on",
    "fuel_pump_2": "on",
    "fuel_pump_3": "on",
    "fuel_pump_4": "on",
    "hyd_pump_1": "on",
    "hyd_pump_2": "on",
    "pack_1": "on",
    "pack_2": "on",
    "seat_belts": "off",
    "beacon": "on",
    "strobes": "on",
    "landing_lights": "off",
    "taxi_light": "off",
    "transponder": "on",
    "acas": "advisories",
    "weather_radar": "on",
    "emergency_lights": "armed",
    "nav_unit_1": "on",
    "nav_unit_2": "on",
    "battery": "on",
    "probe_heat": "on",
    "window_heat": "on",
    "trim_units": 3.0,
    "thrust_lever_pct": 55.0,
}
"""Where the controls stand in cruise when a scenario says nothing else."""


def begin(scenario: Scenario) -> Aeroplane:
    """The aeroplane at the start of a scenario."""
    controls = {**INITIAL, "selected_altitude_ft": scenario.start.altitude_ft}
    controls["selected_speed_kt"] = scenario.start.ias_kt
    controls["selected_heading_deg"] = scenario.place.runway_deg
    controls.update({name: value for name, value in scenario.signals.items() if name not in ("fuel_kg", "mass_kg")})
    around = {**SURROUNDINGS, "cleared_altitude_ft": scenario.start.altitude_ft}
    around.update(scenario.surroundings)
    true_hpa = float(around["pressure_reported_hpa"]) - float(around["pressure_error_hpa"])
    wrong_hpa = float(controls["pressure_left_hpa"]) - true_hpa
    plane = Aeroplane(
        at=0,
        distance_nm=scenario.start.distance_nm,
        altitude_ft=scenario.start.altitude_ft - FEET_PER_HPA * wrong_hpa,
        ias_kt=scenario.start.ias_kt,
        vertical_fpm=scenario.start.vertical_speed_fpm,
        heading_deg=scenario.place.runway_deg,
        fuel_kg=float(scenario.signals.get("fuel_kg", 4200.0)),
        mass_kg=float(scenario.signals.get("mass_kg", 41800.0)),
        controls=controls,
        around=around,
        field_ft=scenario.place.elevation_ft,
    )
    true = plane.altitude_ft
    for _ in range(20):  # the start is what the altimeter shows; the cold depends on what is true
        true = plane.altitude_ft - cold_shift_ft(plane, true)
    return replace(plane, altitude_ft=true)


def cold_shift_ft(plane: Aeroplane, true_ft: float) -> float:
    """By how much an altimeter shows too much at *true_ft* when it freezes at the aerodrome (ft); 0 when it is warmer.

    The equation of `cold_correction_ft`, which answers the same question from the other side; above its range the
    error grows in proportion.
    """
    height, air_c = true_ft - plane.field_ft, plane.about("surface_temperature_c")
    if air_c > 0 or height <= 0:
        return 0.0
    share = max(1.0, height / HIGHEST_FT)
    return cold_correction_ft(min(height, HIGHEST_FT), air_c, plane.field_ft) * share


def with_around(plane: Aeroplane, values: dict[str, Scalar], until: int | None = None) -> Aeroplane:
    """The surroundings changed (weather, clearances), until a time (ms) or for good."""
    around = {**plane.around, **values}
    if until is None:
        return replace(plane, around=around)
    lent = {
        name: Lent(value=value, before=plane.around.get(name, SURROUNDINGS[name]), until=until)
        for name, value in values.items()
    }
    return replace(plane, around=around, lent={**plane.lent, **lent})


def expired(plane: Aeroplane, now: int) -> Aeroplane:
    """Without the faults whose time is over at *now* (ms), and what was set for a time as it was before.

    What has been set anew since stays as it is.
    """
    if any(fault.until is not None and now >= fault.until for fault in plane.faults.values()):
        plane = replace(plane, faults={n: f for n, f in plane.faults.items() if f.until is None or now < f.until})
    over = {name: lent for name, lent in plane.lent.items() if now >= lent.until} if plane.lent else {}
    if not over:
        return plane
    back = {name: lent.before for name, lent in over.items() if plane.around.get(name) == lent.value}
    kept = {name: lent for name, lent in plane.lent.items() if name not in over}
    return replace(plane, around={**plane.around, **back}, lent=kept)


def with_plan(plane: Aeroplane, values: dict[str, Scalar], revised: str, report: str) -> Aeroplane:
    """Numbers of the plan that are others now; *revised* and *report* say whence, empty where it stays as it is."""
    return replace(
        plane, plan={**plane.plan, **values}, revised=revised or plane.revised, report="" if revised else report
    )


def with_faults(plane: Aeroplane, values: dict[str, Scalar | None], until: int | None) -> Aeroplane:
    """Signals held by a named fault until a time (ms), or for good."""
    faults = {name: Fault(value=value, until=until) for name, value in values.items()}
    return replace(plane, faults={**plane.faults, **faults})


def pack_plane(plane: Aeroplane) -> str:
    """The aeroplane as text for a journal."""
    return b85encode(zlib.compress(msgspec.json.encode(plane), 6)).decode()


def unpack_plane(text: str) -> Aeroplane:
    """The aeroplane of `pack_plane`. Raises `ValueError` for any other text."""
    try:
        return msgspec.json.decode(zlib.decompress(b85decode(text)), type=Aeroplane)
    except (msgspec.MsgspecError, zlib.error) as error:
        raise ValueError(f"no packed aeroplane: {error}") from None
