"""What the aeroplane's instruments show: signal name to value, a dead aeroplane showing nothing."""

from math import sqrt

from flowdeck.aircraft.burn import shown_kgh
from flowdeck.aircraft.motion import indicated, stand_distance_m, table_ft
from flowdeck.aircraft.state import Aeroplane
from flowdeck.aircraft.watch import watch_of
from flowdeck.arrival.monitor import altimeter_error_ft
from flowdeck.model.condition import Scalar
from flowdeck.model.scenario import Scenario

_RADIO_HEIGHT_ALIVE_FT = 2500.0


def show(plane: Aeroplane, scenario: Scenario) -> dict[str, Scalar | None]:
    """Readings at this moment. None: the instrument shows a failure. Empty when no power is left."""
    source = bus_source(plane)
    values: dict[str, Scalar | None] = {**scenario.plan, **plane.plan}
    if source == "none":
        return values
    values.update(plane.controls)
    values.update(_air(plane, scenario))
    values.update(_ground(plane, scenario))
    values.update(_engines(plane, scenario))
    values["bus_source"] = source
    values["apu_power"] = plane.control("apu_state") == "running"
    for name, fault in plane.faults.items():
        values[name] = fault.value
    return _watched(values, plane, scenario)


def _watched(values: dict[str, Scalar | None], plane: Aeroplane, scenario: Scenario) -> dict[str, Scalar | None]:
    """With what follows from the readings and the arrival: worked out from what is shown, faults and all."""
    values["altimeter_error_ft"] = altimeter_error_ft(values)
    watch = watch_of(scenario, plane)
    if watch is not None:
        values.update(watch.signals(values))
    return values


def bus_source(plane: Aeroplane) -> str:
    """What feeds the buses."""
    if max(plane.turning_1, plane.turning_2) > 50:
        return "engines"
    if plane.around["ground_power"] is True:
        return "ground"
    if plane.control("apu_state") == "running":
        return "apu"
    return "battery" if plane.control("battery") == "on" else "none"


def _air(plane: Aeroplane, scenario: Scenario) -> dict[str, Scalar | None]:
    place = scenario.place
    shown = indicated(plane)
    height = plane.altitude_ft - place.elevation_ft
    around = plane.around
    sat = plane.about("surface_temperature_c") - 0.00198 * height
    tas = plane.ias_kt * (1 + 0.018 * max(0.0, plane.altitude_ft) / 1000)
    mach = tas / (38.9678 * sqrt(sat + 273.15))
    in_cloud = plane.about("cloud_base_ft") <= plane.altitude_ft < plane.about("cloud_top_ft")
    below = plane.altitude_ft < plane.about("cloud_top_ft")
    aid = plane.plan.get("planned_aid_mhz", scenario.plan.get("planned_aid_mhz"))
    tuned = {side: plane.control(f"nav_{side}_mhz") == aid for side in ("left", "right")}
    table = table_ft(plane, scenario)
    clear = plane.altitude_ft >= plane.about("cloud_top_ft")
    return {
        "altitude_ft": shown,
        "height_aal_ft": shown - place.elevation_ft,
        "radio_height_ft": height if height <= _RADIO_HEIGHT_ALIVE_FT else None,
        "terrain_height_ft": place.elevation_ft,
        "ias_kt": plane.ias_kt,
        "groundspeed_kt": plane.groundspeed_kt,
        "vertical_speed_fpm": plane.vertical_fpm,
        "heading_deg": plane.heading_deg,
        "pitch_deg": max(-5.0, min(15.0, plane.vertical_fpm / 180 + 2.5)),
        "distance_nm": plane.distance_nm,
        "fix_distance_nm": abs(plane.distance_nm - place.fix_nm),
        "planned_table_ft": table,
        "path_error_ft": shown - table,
        "cleared_altitude_ft": around["cleared_altitude_ft"],
        "cleared_speed_kt": around["cleared_speed_kt"],
        "pressure_reported_hpa": around["pressure_reported_hpa"],
        "sat_c": sat,
        "tat_c": (sat + 273.15) * (1 + 0.2 * mach * mach) - 273.15,
        "in_cloud": in_cloud,
        "visibility_m": 9999.0 if clear else around["visibility_m"],
        "precipitation": around["precipitation"] if below else "none",
        "nav_left_ident": tuned["left"],
        "nav_right_ident": tuned["right"],
        "flag_left": not tuned["left"],
        "flag_right": not tuned["right"],
        "deceleration_kt_s": plane.decel_kt_s,
    }


def _ground(plane: Aeroplane, scenario: Scenario) -> dict[str, Scalar | None]:
    pumps = any(plane.control(f"hyd_pump_{n}") == "on" for n in (1, 2))
    pressed = pumps or plane.control("parking_brake") == "set"
    return {
        "on_ground": plane.on_ground,
        "past_threshold_m": plane.rolled_m,
        "stand_distance_m": stand_distance_m(plane, scenario),
        "brake_pressure": "good" if pressed else "low",
        "ground_power": plane.around["ground_power"],
        "fuel_kg": plane.fuel_kg,
        "mass_kg": plane.mass_kg,
    }


def _engines(plane: Aeroplane, scenario: Scenario) -> dict[str, Scalar | None]:
    values: dict[str, Scalar | None] = {}
    for engine, turning in ((1, plane.turning_1), (2, plane.turning_2)):
        fed = plane.control(f"fuel_lever_{engine}") == "run"
        values[f"n2_{engine}_pct"] = turning
        values[f"n1_{engine}_pct"] = max(0.0, (turning - 40) * 1.15) if turning > 40 else turning * 0.1
        values[f"egt_{engine}_c"] = 380.0 + turning * 2 if fed else max(40.0, turning * 7)
        burns = fed and turning > 20
        values[f"fuel_flow_{engine}_kgh"] = shown_kgh(plane, scenario, turning) if burns else 0.0
    return values
