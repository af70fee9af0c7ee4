"""The built-in signals: what every deck may read without declaring it.

Ranges say what a reading can believably be, wide enough for any transport aeroplane; they serve to find
conditions that can never or always hold. All of them `common practice, no source` unless marked.
"""

from collections.abc import Iterable

from flowdeck.model.signals import Signal, SignalKind

_OFF_ON = ("off", "on")
_SLOW_S = 30.0
_SIDES = ("left", "right")
_ENGINES = (1, 2)


def _number(name: str, title: str, unit: str, low: float, high: float, stale_s: float | None = 5.0) -> Signal:
    return Signal(name=name, title=title, unit=unit, low=low, high=high, stale_s=stale_s)


def _choice(name: str, title: str, *choices: str) -> Signal:
    return Signal(name=name, title=title, kind=SignalKind.CHOICE, choices=choices or _OFF_ON)


def _flag(name: str, title: str) -> Signal:
    return Signal(name=name, title=title, kind=SignalKind.FLAG)


_FLIGHT = (
    _number("altitude_ft", "Altitude", "ft", -1500, 45000),
    _number("height_aal_ft", "Height above aerodrome", "ft", -1500, 45000),
    _number("radio_height_ft", "Radio height", "ft", -20, 8000),
    _number("terrain_height_ft", "Height of the terrain", "ft", -1500, 30000),
    _number("ias_kt", "Indicated airspeed", "kt", 0, 450),
    _number("groundspeed_kt", "Groundspeed", "kt", 0, 700),
    _number("vertical_speed_fpm", "Vertical speed", "fpm", -8000, 8000),
    _number("heading_deg", "Heading", "deg", 0, 360),
    _number("pitch_deg", "Pitch", "deg", -90, 90),
    _number("deceleration_kt_s", "Deceleration", "kt_s", -15, 25),
    _flag("on_ground", "On ground"),
)

_POSITION = (
    _number("distance_nm", "Distance to threshold", "nm", -10, 1000),
    _number("fix_distance_nm", "Distance to final approach fix", "nm", -50, 1000),
    _number("past_threshold_m", "Distance past threshold", "m", -10000, 6000),
    _number("stand_distance_m", "Distance to stand", "m", -50, 20000),
)

# What a controller cleared or reported is told once and holds until the next; it does not age.
_CLEARED = (
    _number("cleared_altitude_ft", "Cleared altitude", "ft", -1500, 45000, stale_s=None),
    _number("cleared_speed_kt", "Cleared speed", "kt", 0, 450, stale_s=None),
    _number("pressure_reported_hpa", "Reported pressure", "hpa", 850, 1100, stale_s=None),
)

# What follows from readings and the plan of an arrival, worked out at every sample; nothing without a plan.
_WATCHED = (
    _number("planned_altitude_ft", "Altitude of the plan here", "ft", -1500, 46000),
    _number("height_above_path_ft", "Height above the plan", "ft", -46000, 46000),
    _number("required_rate_fpm", "Rate to the next constraint", "fpm", -30000, 30000),
    _number("next_fix_nm", "Distance to the next constraint", "nm", 0, 1000),
    _number("next_fix_ft", "Altitude at the next constraint, as it goes", "ft", -100000, 150000),
    _number("next_fix_miss_ft", "By how much it will be missed", "ft", -150000, 150000),
    _number("gate_in_s", "Time to the gate", "s", 0, 20000),
    _number("gate_speed_kt", "Speed at the gate, as it goes", "kt", 0, 450),
    _flag("gate_stable", "Will be stable at the gate"),
    _number("flap_margin_kt", "Above the minimum of the flap", "kt", -450, 450),
    _number("limit_margin_kt", "Below the limit of the flap", "kt", -450, 450),
    _number("altimeter_error_ft", "Altimeter against radio height", "ft", -50000, 50000),
)

_SELECTED = (
    _number("selected_altitude_ft", "Selected altitude", "ft", -1500, 45000),
    _number("selected_heading_deg", "Selected heading", "deg", 0, 360),
    _number("selected_speed_kt", "Selected speed", "kt", 0, 450),
    # Sea-level pressures on record run from about 870 to 1085 hPa: from memory.
    _number("pressure_left_hpa", "Left altimeter setting", "hpa", 850, 1100),
    _number("pressure_right_hpa", "Right altimeter setting", "hpa", 850, 1100),
    _number("pressure_standby_hpa", "Standby altimeter setting", "hpa", 850, 1100),
    _number("minimum_left_ft", "Left minimum", "ft", -1500, 20000),
    _number("minimum_right_ft", "Right minimum", "ft", -1500, 20000),
    _choice("lateral_mode", "Lateral mode", "heading", "track", "course", "none"),
    _choice("vertical_mode", "Vertical mode", "hold", "descend", "path", "climb", "go_around", "none"),
    _choice("autopilot", "Autopilot"),
    _choice("autothrottle", "Autothrottle"),
    _choice("fd_left", "Left flight director"),
    _choice("fd_right", "Right flight director"),
)

_AIDS = tuple(
    signal
    for side in _SIDES
    for signal in (
        # The band of VOR and localiser, 108 to 117.95 MHz: from memory.
        _number(f"nav_{side}_mhz", f"{side.capitalize()} navigation frequency", "mhz", 108, 118),
        _flag(f"nav_{side}_ident", f"{side.capitalize()} navigation aid identified"),
        _number(f"course_{side}_deg", f"{side.capitalize()} course", "deg", 0, 360),
        _flag(f"flag_{side}", f"{side.capitalize()} navigation flag in view"),
    )
)

_SURFACES = (
    _number("flap_deg", "Flap", "deg", 0, 60),
    _number("trim_units", "Pitch trim", "", -20, 20),
    _choice("gear", "Landing gear", "up", "moving", "down"),
    _choice("speedbrake", "Speed brake", "in", "out"),
    _choice("spoilers", "Spoilers", "stowed", "armed", "deployed"),
    _choice("autobrake", "Autobrake", "off", "low", "medium", "high"),
    _choice("reverse", "Reverse thrust", "stowed", "idle", "full"),
    _choice("parking_brake", "Parking brake", "off", "set"),
    _choice("brake_pressure", "Brake pressure", "low", "good"),
)

_WEATHER = (
    _number("tat_c", "Total air temperature", "c", -90, 80, _SLOW_S),
    _number("sat_c", "Static air temperature", "c", -90, 60, _SLOW_S),
    _number("visibility_m", "Visibility", "m", 0, 100000, _SLOW_S),
    _choice("precipitation", "Precipitation", "none", "rain", "snow", "mixed"),
    _flag("in_cloud", "In cloud"),
    _choice("engine_anti_ice", "Engine anti-ice"),
    _choice("wing_anti_ice", "Wing anti-ice"),
    _choice("probe_heat", "Probe heat"),
    _choice("window_heat", "Window heat"),
)

_ENGINE = (
    *(_number(f"n1_{n}_pct", f"Engine {n} fan speed", "pct", 0, 120) for n in _ENGINES),
    *(_number(f"n2_{n}_pct", f"Engine {n} core speed", "pct", 0, 120) for n in _ENGINES),
    *(_number(f"egt_{n}_c", f"Engine {n} exhaust temperature", "c", -60, 1200) for n in _ENGINES),
    *(_number(f"fuel_flow_{n}_kgh", f"Engine {n} fuel flow", "kgh", 0, 15000) for n in _ENGINES),
    *(_choice(f"fuel_lever_{n}", f"Engine {n} fuel lever", "cutoff", "run") for n in _ENGINES),
    _number("thrust_lever_pct", "Thrust lever", "pct", 0, 110),
)

_SUPPLIES = (
    _choice("apu_state", "Auxiliary power unit", "off", "starting", "running", "stopping"),
    _flag("apu_power", "Auxiliary power available"),
    _flag("ground_power", "Ground power available"),
    _choice("bus_source", "Source of the buses", "battery", "engines", "apu", "ground", "none"),
    _choice("battery", "Battery"),
    *(_choice(f"fuel_pump_{n}", f"Fuel pump {n}") for n in (1, 2, 3, 4)),
    *(_choice(f"hyd_pump_{n}", f"Hydraulic electric pump {n}") for n in (1, 2)),
    *(_choice(f"pack_{n}", f"Air-conditioning pack {n}") for n in (1, 2)),
    *(_choice(f"nav_unit_{n}", f"Navigation reference unit {n}", "off", "align", "on") for n in (1, 2)),
    _number("fuel_kg", "Fuel", "kg", 0, 200000, _SLOW_S),
    _number("mass_kg", "Mass", "kg", 1000, 600000, _SLOW_S),
)

_CABIN_AND_LIGHTS = (
    _choice("seat_belts", "Seat-belt sign"),
    _choice("beacon", "Anti-collision light"),
    _choice("strobes", "Strobe lights"),
    _choice("landing_lights", "Landing lights"),
    _choice("taxi_light", "Taxi light"),
    _choice("emergency_lights", "Emergency lights", "off", "armed", "on"),
    _choice("transponder", "Transponder", "standby", "on"),
    _choice("acas", "Collision avoidance", "off", "traffic", "advisories"),
    _choice("weather_radar", "Weather radar"),
)

CATALOGUE: tuple[Signal, ...] = (
    *_FLIGHT,
    *_POSITION,
    *_CLEARED,
    *_WATCHED,
    *_SELECTED,
    *_AIDS,
    *_SURFACES,
    *_WEATHER,
    *_ENGINE,
    *_SUPPLIES,
    *_CABIN_AND_LIGHTS,
)
"""All built-in signals, by theme."""


def by_name(extra: Iterable[Signal] = ()) -> dict[str, Signal]:
    """Built-in signals and *extra* ones by name; an extra one of the same name takes its place."""
    return {signal.name: signal for signal in (*CATALOGUE, *extra)}
