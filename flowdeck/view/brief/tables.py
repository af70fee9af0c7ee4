"""The tables of a brief: what is done where, fixes, miles, rates, turns.

The law: on a cold day every altitude of the plan stands beside what the altimeter must show for it.
"""

from flowdeck.arrival.brief import Brief
from flowdeck.arrival.expected import flown_ft
from flowdeck.view.columns import Row, Table
from flowdeck.view.words import safe


def tables_of(brief: Brief) -> list[Table]:
    """Every table of a brief; those with nothing in them are left out."""
    cold = any(row.flown_ft is None or abs(row.flown_ft - row.altitude_ft) >= 5 for row in brief.miles)
    found = [_events(brief, cold), _fixes(brief, cold), _miles(brief, cold), _rates(brief), _turns(brief)]
    return [table for table in found if table.rows]


def _flown(brief: Brief, altitude_ft: float, cold: bool) -> Row:
    """An altitude of the plan as the altimeter shows it; a dash where cold has no correction for it."""
    flown = flown_ft(brief.arrival, altitude_ft)
    return ("-" if flown is None else f"{flown:.0f}",) if cold else ()


def _flown_head(cold: bool) -> Row:
    return ("flown ft",) if cold else ()


def _events(brief: Brief, cold: bool) -> Table:
    rows: list[Row] = []
    for event in () if brief.profile is None else brief.profile.events:
        nm, ft, kt = event.point.distance_nm, event.point.altitude_ft, event.point.speed_kt
        rows.append((f"{nm:.1f}", f"{ft:.0f}", *_flown(brief, ft, cold), f"{kt:.0f}", safe(event.words)))
    return Table("What is done where", ("NM", "ft", *_flown_head(cold), "kt", "<what"), rows)


def _fixes(brief: Brief, cold: bool) -> Table:
    rows: list[Row] = [
        (
            safe(fix.name),
            f"{fix.distance_nm:g}",
            fix.asks or "-",
            f"{fix.altitude_ft:.0f}",
            *_flown(brief, fix.altitude_ft, cold),
            f"{fix.speed_kt:.0f}",
            "-" if fix.speed_limit_kt is None else f"{fix.speed_limit_kt:.0f}",
            "-" if fix.flown_ft is None else f"{fix.flown_ft:.0f}",
            safe(fix.conflict) or "fits",
        )
        for fix in brief.fixes
    ]
    ends: Row = ("kt", "kt at most", "not below, flown", "<fits")
    return Table("Fixes as planned", ("<fix", "NM", "<asks", "ft", *_flown_head(cold), *ends), rows)


def _miles(brief: Brief, cold: bool) -> Table:
    least = brief.planned.get("planned_minimum_ft")
    rows: list[Row] = []
    for row in brief.miles:
        shown = row.altitude_ft if row.flown_ft is None else row.flown_ft
        rows.append(
            (
                f"{row.distance_nm:g}",
                f"{row.altitude_ft:.0f}",
                "-" if row.published_ft is None else f"{row.published_ft:.0f}",
                *(("-" if row.flown_ft is None else f"{row.flown_ft:.0f}",) if cold else ()),
                "below the minimum" if least is not None and shown < least else "",
            )
        )
    heads = ("NM", "path ft", "chart ft", *_flown_head(cold), "<")
    return Table("Distance and altitude on the final path", heads, rows)


def _rates(brief: Brief) -> Table:
    rows: list[Row] = [
        (f"{r.ground_kt:.0f}", f"{round(r.rate_fpm, -1):.0f}", "as planned" if r.planned else "") for r in brief.rates
    ]
    return Table("Rate of descent by ground speed", ("kt", "ft/min", "<"), rows)


def _turns(brief: Brief) -> Table:
    rows: list[Row] = [
        (
            safe(t.fix),
            f"{abs(t.change_deg):.0f} {'right' if t.change_deg > 0 else 'left'}",
            f"{t.radius_nm:.1f}",
            f"{t.lead_nm:.1f}",
        )
        for t in brief.turns
    ]
    return Table("Turns, 25 deg of bank", ("<fix", "<deg", "radius NM", "begin NM before"), rows)
