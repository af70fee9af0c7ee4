"""Figures of a brief as they are shown: rounded as their rule says, with their unit."""

from math import ceil, floor

from flowdeck.arrival.brief import Brief
from flowdeck.arrival.sheet import Figure
from flowdeck.view.words import safe

_DECIMALS = {"NM": 1, "deg": 0, "min": 0, "C": 0}
_TITLES = {
    "beyond_table": "Table left",
    "cold": "Cold",
    "constraint": "Constraint",
    "flap_speed": "Flap and speed",
    "fuel": "Fuel",
    "mass": "Mass",
    "minimum": "Minimum",
    "missing": "Not reported",
    "path": "Path",
    "runway": "Runway",
    "speed": "Speed",
    "table": "Table",
    "unread": "Not read",
    "wind": "Wind",
}


def value_of(figure: Figure) -> str:
    """`1640 m`; a text as it is."""
    if isinstance(figure.value, str):
        return safe(figure.value)
    return f"{number(figure.value, figure.unit, figure.rounding)} {figure.unit}".rstrip()


def number(value: float, unit: str, rounding: str = "") -> str:
    """A number with the decimals of its unit, or those that its rounding names; up or down where that is said."""
    decimals = _DECIMALS.get(unit, 0)
    for wanted in (1, 2):
        if f"0.{'0' * (wanted - 1)}1 " in f"{rounding} ":
            decimals = wanted
    if unit == "deg" and value % 1:
        decimals = 2 if round(value, 1) != value else 1
    scale = 10**decimals
    if rounding.startswith("down"):
        value = floor(value * scale + 1e-9) / scale
    elif rounding.startswith("up"):
        value = ceil(value * scale - 1e-9) / scale
    if unit == "deg mag":
        return f"{value:03.0f}"
    text = f"{value:.{decimals}f}"
    return "0" if text in ("-0", "-0.0") else text


def rule_of(figure: Figure) -> str:
    """How it was worked out, and how it was rounded."""
    return safe(f"{figure.rule}; rounded {figure.rounding}" if figure.rounding else figure.rule)


def heading_of(brief: Brief) -> str:
    """Version, status and hash of what it was made from."""
    arrival = brief.arrival
    files = f", files {arrival.hash}" if arrival.hash else ""
    return safe(f"{arrival.aircraft.type} · version {arrival.version}, {arrival.status}{files}")


GLANCE = (
    "minimum_ft",
    "minimum_selector_ft",
    "missed_ft",
    "vref_kt",
    "approach_kt",
    "headwind_kt",
    "tailwind_kt",
    "crosswind_kt",
    "landing_mass_kg",
    "landing_required_m",
    "landing_available_m",
    "autobrake",
    "top_of_descent_nm",
    "leave_kg",
    "hold_left_min",
)
"""The figures that are looked at first."""
_SHORT = {
    "minimum_ft": "Minimum",
    "minimum_selector_ft": "Selector on final",
    "missed_ft": "Selector for a go-around",
    "vref_kt": "Reference speed",
    "leave_kg": "Leave with",
}
_ABSENT = {
    "approach_kt": "Approach speed",
    "headwind_kt": "Headwind",
    "crosswind_kt": "Crosswind",
    "landing_mass_kg": "Landing mass",
    "landing_required_m": "Distance required",
    "autobrake": "Autobrake",
    "top_of_descent_nm": "Begin the descent at",
    "hold_left_min": "Time left to hold",
}
"""Titles where there is no figure to have one."""


def glance(brief: Brief) -> list[tuple[str, str]]:
    """Title and value of the figures that are looked at first; `not known` where they could not be worked out."""
    figures = {figure.key: figure for section in brief.sections for figure in section.figures}
    found = []
    for key in GLANCE:
        if key in figures:
            found.append((_SHORT.get(key, figures[key].title), value_of(figures[key])))
        elif key != "tailwind_kt" and not (key == "headwind_kt" and "tailwind_kt" in figures):
            found.append(((_SHORT | _ABSENT)[key], "not known"))
    return found


def caution_title(kind: str) -> str:
    return _TITLES[kind]
