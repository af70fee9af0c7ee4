"""Figures of a brief as they are shown: rounded as their rule says, with their unit."""

from math import ceil, floor

from flowdeck.arrival.brief import Brief
from flowdeck.arrival.expected import flown_ft
from flowdeck.arrival.profile import Event
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


def event_row(event: Event) -> tuple[str, str, str, str]:
    """Distance, altitude, speed and what is done."""
    point = event.point
    return f"{point.distance_nm:.1f}", f"{point.altitude_ft:.0f}", f"{point.speed_kt:.0f}", safe(event.words)


def _flown(brief: Brief, altitude_ft: float) -> str:
    """An altitude of the plan as the altimeter shows it; a dash where cold has no correction for it."""
    flown = flown_ft(brief.arrival, altitude_ft)
    return "-" if flown is None else f"{flown:.0f}"


def tables_of(brief: Brief) -> list[tuple[str, tuple[str, ...], list[tuple[str, ...]]]]:
    """Every table of a brief: title, headings, rows. A heading that begins with `<` is of a column of words."""
    found: list[tuple[str, tuple[str, ...], list[tuple[str, ...]]]] = []
    cold = any(row.flown_ft is None or abs(row.flown_ft - row.altitude_ft) >= 5 for row in brief.miles)
    flown_head = ("flown ft",) if cold else ()
    if brief.profile is not None:
        events: list[tuple[str, ...]] = []
        for event in brief.profile.events:
            nm, ft, kt, what = event_row(event)
            flown = (_flown(brief, event.point.altitude_ft),) if cold else ()
            events.append((nm, ft, *flown, kt, what))
        found.append(("What is done where", ("NM", "ft", *flown_head, "kt", "<what"), events))
    if brief.fixes:
        rows: list[tuple[str, ...]] = [
            (
                safe(fix.name),
                f"{fix.distance_nm:g}",
                fix.asks or "-",
                f"{fix.altitude_ft:.0f}",
                *((_flown(brief, fix.altitude_ft),) if cold else ()),
                f"{fix.speed_kt:.0f}",
                "-" if fix.speed_limit_kt is None else f"{fix.speed_limit_kt:.0f}",
                "-" if fix.flown_ft is None else f"{fix.flown_ft:.0f}",
                safe(fix.conflict) or "fits",
            )
            for fix in brief.fixes
        ]
        heads: tuple[str, ...] = (
            "<fix",
            "NM",
            "<asks",
            "ft",
            *flown_head,
            "kt",
            "kt at most",
            "not below, flown",
            "<fits",
        )
        found.append(("Fixes as planned", heads, rows))
    rows_: list[tuple[str, ...]] = []
    for row in brief.miles:
        chart = "-" if row.published_ft is None else f"{row.published_ft:.0f}"
        line: tuple[str, ...] = (f"{row.distance_nm:g}", f"{row.altitude_ft:.0f}", chart)
        rows_.append((*line, "-" if row.flown_ft is None else f"{row.flown_ft:.0f}") if cold else line)
    columns = ("NM", "path ft", "chart ft", *flown_head)
    found.append(("Distance and altitude on the final path", columns, rows_))
    rates: list[tuple[str, ...]] = [
        (f"{r.ground_kt:.0f}", f"{round(r.rate_fpm, -1):.0f}", "as planned" if r.planned else "") for r in brief.rates
    ]
    found.append(("Rate of descent by ground speed", ("kt", "ft/min", "<"), rates))
    if brief.turns:
        turns: list[tuple[str, ...]] = [
            (
                safe(t.fix),
                f"{abs(t.change_deg):.0f} {'right' if t.change_deg > 0 else 'left'}",
                f"{t.radius_nm:.1f}",
                f"{t.lead_nm:.1f}",
            )
            for t in brief.turns
        ]
        found.append(("Turns, 25 deg of bank", ("<fix", "<deg", "radius NM", "begin NM before"), turns))
    return found
