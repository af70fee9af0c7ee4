"""Motion: which leg is flown follows from the phase, speed and sink from flap, gear and thrust.

    approach, landing: inbound along the runway's line to the threshold, flare, roll-out
    go_around:         climbing away, out to where a second approach begins, and waiting there
    on the ground:     roll-out, then everything waits for the crew: vacating, taxi, the stand

The autopilot levels off at the selected altitude whenever it reaches it from above, on a descent or
on the final path alike: that is why the selector matters. A hand-flown aeroplane follows the path, and
levels off on a descent or a climb as the director shows it.
"""

from math import radians, tan

from msgspec.structs import replace

from flowdeck.aircraft.burn import burnt_kg
from flowdeck.aircraft.state import FEET_PER_HPA, Aeroplane, cold_shift_ft
from flowdeck.aircraft.watch import watch_of
from flowdeck.model.condition import Scalar
from flowdeck.model.scenario import Scenario
from flowdeck.model.session import Session

FEET_PER_NM = 6076.12
METRES_PER_NM = 1852.0
STEP_MS = 250
FLARE_FT = 30.0
"""Below this height the sink is taken off, so that the wheels touch some 450 m past the threshold (our proposal)."""


def indicated(plane: Aeroplane, side: str = "left") -> float:
    """What an altimeter of that side shows (ft): off by a wrong setting, and on a cold day by the cold."""
    true = plane.about("pressure_reported_hpa") - plane.about("pressure_error_hpa")
    wrong = plane.number(f"pressure_{side}_hpa") - true
    return plane.altitude_ft + FEET_PER_HPA * wrong + cold_shift_ft(plane, plane.altitude_ft)


def table_ft(plane: Aeroplane, scenario: Scenario) -> float:
    """What the altimeter should show on the final path here, with the correction for cold."""
    watch = watch_of(scenario, plane)
    if watch is not None:
        return watch.path_ft(plane.distance_nm)
    altitude = path_ft(scenario, plane.distance_nm)
    return altitude + cold_shift_ft(plane, altitude)


def path_ft(scenario: Scenario, distance_nm: float) -> float:
    """Altitude of the final path at a distance, 50 ft over the threshold."""
    rise = tan(radians(scenario.place.angle_deg)) * FEET_PER_NM
    return scenario.place.elevation_ft + 50 + rise * max(0.0, distance_nm)


def move(plane: Aeroplane, scenario: Scenario, session: Session, now: int) -> Aeroplane:
    """The aeroplane at *now* (ms), from where it was, in steps of a quarter of a second at the most."""
    while plane.at < now:
        step = min(STEP_MS, now - plane.at)
        seconds = step / 1000
        rolls = plane.on_ground and session.phase != "go_around"  # gone around after the wheels touched, it lifts off
        plane = _roll(plane, scenario, session, seconds) if rolls else _fly(plane, scenario, session, seconds)
        plane = _spin(plane, scenario, seconds)
        plane = replace(plane, at=plane.at + step)
    return plane


def _fly(plane: Aeroplane, scenario: Scenario, session: Session, s: float) -> Aeroplane:
    outbound = session.phase == "go_around"
    gear_down = plane.control("gear") == "down"
    height = plane.altitude_ft - scenario.place.elevation_ft
    wanted = _wanted_vertical(plane, scenario, outbound)
    rate = 400.0 * s if height > 100 else 900.0 * s
    vertical = plane.vertical_fpm + max(-rate, min(rate, wanted - plane.vertical_fpm))
    altitude = plane.altitude_ft + vertical * s / 60
    controls = dict(plane.controls)
    altitude, vertical = _capture(plane, controls, altitude, vertical)
    ias = plane.ias_kt + _acceleration(plane, vertical, gear_down) * s
    gs = max(0.0, _tas(ias, altitude) - plane.about("headwind_kt"))
    flown = gs * s / 3600
    distance = _distance(plane, scenario, outbound, flown)
    result = replace(
        plane,
        altitude_ft=altitude,
        vertical_fpm=vertical,
        ias_kt=ias,
        groundspeed_kt=gs,
        distance_nm=distance,
        rolled_m=0.0 if distance > 0 else plane.rolled_m + (flown - plane.distance_nm) * METRES_PER_NM,
        heading_deg=_heading(plane, scenario, s),
        on_ground=False,
        controls=controls,
    )
    if altitude <= scenario.place.elevation_ft and not outbound and distance < 0.5:
        return _touch_down(result, scenario)
    if altitude < scenario.place.elevation_ft + 20 and (outbound or distance >= 0.5):
        return replace(result, altitude_ft=scenario.place.elevation_ft + 20, vertical_fpm=max(0.0, vertical))
    return result


def _distance(plane: Aeroplane, scenario: Scenario, outbound: bool, flown: float) -> float:
    if outbound:
        return max(plane.distance_nm, min(scenario.place.restart_nm, plane.distance_nm + flown))
    return max(0.0, plane.distance_nm - flown)


def _wanted_vertical(plane: Aeroplane, scenario: Scenario, outbound: bool) -> float:
    """The rate (ft/min) that the present mode asks for."""
    mode = plane.control("vertical_mode")
    error = plane.number("selected_altitude_ft") - indicated(plane)
    if mode in ("go_around", "climb"):
        strong = plane.number("thrust_lever_pct") >= 80 or mode == "climb"
        top = 1900.0 if strong else 300.0
        return max(-200.0, min(top, error * 4))
    if outbound:
        return plane.vertical_fpm if abs(plane.vertical_fpm) > 1 and mode == "path" else 0.0
    if mode == "descend":
        usual = -(plane.groundspeed_kt * 5.6 + 300)
        return max(usual, min(0.0, error * 4))
    if mode == "path":
        return _path_rate(plane, scenario)
    return 0.0


def _path_rate(plane: Aeroplane, scenario: Scenario) -> float:
    height = plane.altitude_ft - scenario.place.elevation_ft
    if height < FLARE_FT and plane.distance_nm < 0.3:
        return -(150.0 + 20.0 * height)
    if scenario.facts.get("precision") is True:
        above = plane.altitude_ft - path_ft(scenario, plane.distance_nm)  # a beam from the ground
    else:
        above = indicated(plane) - table_ft(plane, scenario)  # a path by the altimeter, wrong if its setting is
    slope = tan(radians(scenario.place.angle_deg)) * plane.groundspeed_kt * FEET_PER_NM / 60
    return min(0.0, max(-1500.0, -slope - above * 6))


def _capture(plane: Aeroplane, controls: dict[str, Scalar], altitude: float, vertical: float) -> tuple[float, float]:
    """Level off at the selected altitude when it is passed: by the autopilot, or by hand as the director shows it.

    By hand the final path is flown through it.
    """
    mode = plane.control("vertical_mode")
    by_hand = plane.control("autopilot") != "on"
    turning = any(travel.signal == "selected_altitude_ft" for travel in plane.travels)  # it only sweeps by
    if mode in ("hold", "none") or (by_hand and mode == "path") or turning:
        return altitude, vertical
    shift = indicated(plane) - plane.altitude_ft
    selected = plane.number("selected_altitude_ft")
    before, after = plane.altitude_ft + shift, altitude + shift
    down = before > selected >= after or (mode == "descend" and abs(after - selected) < 15)
    up = before < selected <= after or (mode in ("climb", "go_around") and abs(after - selected) < 15)
    if (mode in ("descend", "path") and down) or (mode in ("climb", "go_around") and up):
        controls["vertical_mode"] = "hold"
        return selected - shift, 0.0
    return altitude, vertical


def _tas(ias: float, altitude: float) -> float:
    """About 1.8 % more than indicated for each 1000 ft (common practice, no source)."""
    return ias * (1 + 0.018 * max(0.0, altitude) / 1000)


def _acceleration(plane: Aeroplane, vertical: float, gear_down: bool) -> float:
    """kt/s, negative when slowing.

    Clean and near 165 kt about 10 kt are lost a mile level and 5 on a 3 degree path (from memory); flap, gear and
    speed brake add to it.
    """
    wanted = plane.number("selected_speed_kt")
    if plane.control("autothrottle") == "off" and plane.number("thrust_lever_pct") < 5:
        wanted = 0.0
    gap = wanted - plane.ias_kt
    if gap >= 0:
        return min(1.6, gap * 0.5)
    drag = 0.5 + 0.014 * plane.number("flap_deg")
    drag += 0.35 if gear_down else 0.0
    drag += 0.5 if plane.control("speedbrake") == "out" else 0.0
    drag -= 0.28 * min(2.0, max(0.0, -vertical / 900))
    return max(gap * 0.5, -max(0.08, drag))


def _heading(plane: Aeroplane, scenario: Scenario, s: float) -> float:
    """Turns to the runway's line when the lateral mode follows it, 1.5 degrees a second."""
    if plane.control("lateral_mode") not in ("course", "track"):
        goal = plane.number("selected_heading_deg")
    else:
        goal = scenario.place.runway_deg
    off = (goal - plane.heading_deg + 180) % 360 - 180
    return (plane.heading_deg + max(-1.5 * s, min(1.5 * s, off))) % 360


def _touch_down(plane: Aeroplane, scenario: Scenario) -> Aeroplane:
    controls = dict(plane.controls)
    if controls["spoilers"] == "armed":
        controls["spoilers"] = "deployed"
    return replace(
        plane,
        on_ground=True,
        altitude_ft=scenario.place.elevation_ft,
        vertical_fpm=0.0,
        distance_nm=0.0,
        controls=controls,
    )


_BRAKES = {"off": 0.0, "low": 2.0, "medium": 3.2, "high": 5.0}
_REVERSE = {"stowed": 0.0, "idle": 0.5, "full": 1.6}


def _roll(plane: Aeroplane, scenario: Scenario, session: Session, s: float) -> Aeroplane:
    gs = plane.groundspeed_kt
    goal, slowing = _ground_goal(plane, scenario, session)
    slower = max(goal, gs - slowing * s) if gs > goal else min(goal, gs + 1.0 * s)
    metres = (gs + slower) / 2 * s * METRES_PER_NM / 3600
    vacated = session.facts.get("runway_vacated") is True
    return replace(
        plane,
        groundspeed_kt=slower,
        ias_kt=max(0.0, slower + plane.about("headwind_kt")) if slower > 40 else slower,
        decel_kt_s=(gs - slower) / s,
        rolled_m=plane.rolled_m + (0.0 if vacated else metres),
        taxied_m=plane.taxied_m + (metres if vacated else 0.0),
    )


def _ground_goal(plane: Aeroplane, scenario: Scenario, session: Session) -> tuple[float, float]:
    """The speed that the crew lets it roll at (kt), and how fast it slows to it (kt/s)."""
    facts = session.facts
    if plane.control("parking_brake") == "set":
        return 0.0, 6.0
    if facts.get("runway_vacated") is not True:
        brake = _BRAKES[str(plane.control("autobrake"))]
        manual = 1.8 if plane.groundspeed_kt < 70 else 0.9
        drag = 1.0 if plane.control("spoilers") == "deployed" else 0.5
        return 15.0, max(brake, manual) + drag + _REVERSE[str(plane.control("reverse"))]
    to_go = stand_distance_m(plane, scenario)
    if to_go <= 0.3:
        return 0.0, 4.0
    if facts.get("taxi_route_agreed") is not True:
        return (0.0, 1.5) if plane.taxied_m > 60 else (10.0, 1.5)
    short = scenario.place.stand_m + 40
    if to_go > short:
        braking = (to_go - short) < 60
        return (7.0 if braking else 15.0), 1.5
    if facts.get("guidance_seen") is not True:
        return 0.0, 2.5
    return (5.0 if to_go < 50 else 9.0), 2.0


def taxi_m(scenario: Scenario) -> float:
    """Length of the way from the runway to the stand (m), at 15 kt."""
    return scenario.place.taxi_s * 15.0 * METRES_PER_NM / 3600


def stand_distance_m(plane: Aeroplane, scenario: Scenario) -> float:
    """Metres left to the stopping point of the stand."""
    return max(0.0, taxi_m(scenario) - plane.taxied_m)


def _spin(plane: Aeroplane, scenario: Scenario, s: float) -> Aeroplane:
    """How fast the engines turn (percent N2): to idle or thrust while fed, running down when cut."""
    lever = plane.number("thrust_lever_pct")
    fed = 60.0 if plane.on_ground else 62.0 + lever * 0.35
    turning = []
    for engine, now in ((1, plane.turning_1), (2, plane.turning_2)):
        goal = fed if plane.control(f"fuel_lever_{engine}") == "run" else 0.0
        rate = 8.0 if goal > now else (3.0 if goal > 0 else 1.6)
        turning.append(now + max(-rate * s, min(rate * s, goal - now)))
    flow = burnt_kg(plane, scenario, (turning[0], turning[1]), s)
    return replace(
        plane,
        turning_1=turning[0],
        turning_2=turning[1],
        fuel_kg=max(0.0, plane.fuel_kg - flow),
        mass_kg=plane.mass_kg - min(plane.fuel_kg, flow),
    )
