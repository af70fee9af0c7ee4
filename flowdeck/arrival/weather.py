"""Weather at the aerodrome as a value. What was not reported, or could not be read, is None and never a default."""

from typing import Literal, TypeAlias

from msgspec import Struct

Cover: TypeAlias = Literal["few", "scattered", "broken", "overcast", "obscured"]
TEN_KM_M = 10_000.0
"""Stands for a visibility of 10 km or more."""


class Cloud(Struct, frozen=True, kw_only=True):
    """A layer. *base_ft* above the aerodrome, None where it was not measured. *kind*: `CB`, `TCU` or empty."""

    cover: Cover
    base_ft: float | None = None
    kind: str = ""


class Weather(Struct, frozen=True, kw_only=True):
    """A report. Wind from where (true) in degrees and kt; visibility m; temperatures C; pressure hPa.

    *phenomena* as reported (`-RA`, `FZFG`). *runway_ranges*: runway, lowest m. *unread*: groups that say nothing
    that can be read or believed; *missing*: what a report has and this one has not. A calm has speed 0 and no
    direction.
    """

    text: str = ""
    station: str = ""
    day: int | None = None
    hour: int | None = None
    minute: int | None = None
    corrected: bool = False
    automatic: bool = False
    wind_from_deg: float | None = None
    wind_variable: bool = False
    wind_between_deg: tuple[float, float] | None = None
    wind_kt: float | None = None
    gust_kt: float | None = None
    visibility_m: float | None = None
    runway_ranges: tuple[tuple[str, float], ...] = ()
    phenomena: tuple[str, ...] = ()
    clouds: tuple[Cloud, ...] = ()
    temperature_c: float | None = None
    dew_point_c: float | None = None
    qnh_hpa: float | None = None
    unread: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()


_WET = ("DZ", "RA", "SN", "SG", "IC", "PL", "GR", "GS", "UP", "FG")
"""Phenomena that are visible moisture (from memory); mist counts by the visibility alone."""
_FROZEN = ("SN", "SG", "PL", "GS", "IC")
_LIQUID = ("DZ", "RA", "GR", "UP")


_MILE_MORE_M = 10.0
"""A limit of 1600 m is meant to hold for one statute mile, which is 1609."""


def _codes(group: str) -> list[str]:
    """The two-letter codes of a phenomenon; none for one that is only in the vicinity."""
    letters = group.lstrip("+-")
    return [] if letters.startswith("VC") else [letters[i : i + 2] for i in range(0, len(letters), 2)]


def moisture(weather: Weather, visibility_m: float) -> bool | None:
    """Whether moisture is visible at the surface: something falls, fog, or visibility at or below the operator's limit.

    None when the visibility is not known and nothing else tells. Source of the kinds: from memory.
    """
    if any(code in _WET for group in weather.phenomena for code in _codes(group)):
        return True
    return None if weather.visibility_m is None else weather.visibility_m <= visibility_m + _MILE_MORE_M


def ceiling_ft(weather: Weather) -> float | None:
    """Height above the aerodrome of the lowest cloud that covers more than half of the sky; None if there is none."""
    thick = (cloud.base_ft for cloud in weather.clouds if cloud.cover in ("broken", "overcast", "obscured"))
    return min((base for base in thick if base is not None), default=None)


def ceiling_is_unknown(weather: Weather) -> bool:
    """Whether more than half of the sky is covered by cloud whose base was not measured."""
    return any(c.base_ft is None and c.cover in ("broken", "overcast", "obscured") for c in weather.clouds)


def precipitation(weather: Weather) -> Literal["none", "rain", "snow", "mixed"]:
    """What falls at the aerodrome; `none` also where nothing was reported. What only blows or drifts does not fall."""
    falling = [codes for codes in map(_codes, weather.phenomena) if not {"BL", "DR"} & set(codes)]
    frozen = any(code in _FROZEN for codes in falling for code in codes)
    liquid = any(code in _LIQUID for codes in falling for code in codes)
    if frozen and liquid:
        return "mixed"
    return "snow" if frozen else "rain" if liquid else "none"
