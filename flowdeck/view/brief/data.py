"""A brief as data for other programs: stable keys, units in their names."""

from typing import Any

from flowdeck import DISCLAIMER
from flowdeck.arrival.brief import Brief
from flowdeck.arrival.expected import flown_ft
from flowdeck.arrival.profile import Point


def brief_data(brief: Brief) -> dict[str, Any]:
    """Everything that the text shows, and the points of the path."""
    arrival, profile = brief.arrival, brief.profile
    return {
        "arrival": arrival.id,
        "title": arrival.title,
        "about": arrival.about,
        "version": arrival.version,
        "status": arrival.status,
        "hash": arrival.hash,
        "aircraft": arrival.aircraft.type,
        "notice": DISCLAIMER,
        "lands": brief.lands,
        "cautions": [{"kind": c.kind, "words": c.words, "no_landing": c.no_landing} for c in brief.cautions],
        "unknown": list(brief.unknown),
        "figures": {
            f.key: {"title": f.title, "value": f.value, "unit": f.unit, "rule": f.rule, "rounding": f.rounding}
            for section in brief.sections
            for f in section.figures
        },
        "fixes": [
            {
                "fix": f.name,
                "distance_nm": f.distance_nm,
                "asks": f.asks,
                "altitude_ft": round(f.altitude_ft, 1),
                "planned_flown_ft": _rounded(flown_ft(arrival, f.altitude_ft)),
                "speed_kt": round(f.speed_kt, 1),
                "speed_limit_kt": f.speed_limit_kt,
                "flown_ft": f.flown_ft,
                "conflict": f.conflict,
            }
            for f in brief.fixes
        ],
        "miles": [
            {
                "distance_nm": m.distance_nm,
                "altitude_ft": round(m.altitude_ft, 1),
                "flown_ft": m.flown_ft,
                "published_ft": m.published_ft,
            }
            for m in brief.miles
        ],
        "rates": [
            {"ground_kt": round(r.ground_kt, 1), "rate_fpm": round(r.rate_fpm, 1), "planned": r.planned}
            for r in brief.rates
        ],
        "turns": [
            {
                "fix": t.fix,
                "change_deg": t.change_deg,
                "radius_nm": round(t.radius_nm, 2),
                "lead_nm": round(t.lead_nm, 2),
            }
            for t in brief.turns
        ],
        "events": [
            {
                "kind": e.kind,
                "words": e.words,
                **_point(e.point),
                "flown_ft": _rounded(flown_ft(arrival, e.point.altitude_ft)),
            }
            for e in (profile.events if profile else ())
        ],
        "path": [_point(p) for p in (profile.points if profile else ())],
        "planned": brief.planned,
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 1)


def _point(p: Point) -> dict[str, float]:
    return {
        "distance_nm": round(p.distance_nm, 3),
        "altitude_ft": round(p.altitude_ft, 1),
        "speed_kt": round(p.speed_kt, 1),
        "seconds": round(p.seconds, 1),
    }
