"""A METAR's text to a `Weather`. Winds of a METAR are true.

The law: each group is read on its own, so that one that is garbled takes nothing else with it; what stands behind a
trend or `RMK` is no part of the report; a group that nothing reads, or that nobody can believe, is named and says
nothing. The groups themselves are read by the `metar` library, guarded: it takes a missing visibility for 10 km and
a temperature of the remarks before that of the report, so neither ever reaches it. Dates play no part.
"""

import re
from collections.abc import Callable, Iterable
from typing import Any

from msgspec.structs import replace

from flowdeck.arrival.weather import TEN_KM_M, Cloud, Cover, Weather

LONGEST = 1000


def _group(pattern: str) -> re.Pattern[str]:
    """A whole group in plain letters and figures."""
    return re.compile(rf"(?:{pattern})\Z", re.ASCII)


_END = _group(r"(RMKS?|TEMPO|BECMG|NOSIG|INTER|PROB\d\d|FM\d{4,6})")
_TIME = _group(r"(\d\d)(\d\d)(\d\d)Z")
_STATION = _group(r"[A-Z][A-Z0-9]{3}")
_WIND = _group(r"([0-2]\d\d|3[0-5]\d|360|VRB)P?\d{2,3}(GP?\d{2,3})?(KT|MPS|KMH)")
_BETWEEN = _group(r"(\d{3})V(\d{3})")
_METRES = _group(r"\d{4}(NDV)?")
_SECTOR = _group(r"\d{4}(N|NE|E|SE|S|SW|W|NW)")
_MILES = _group(r"[MP]?(\d{1,3}|\d{1,2}/[1-9]\d?|\d{1,2} \d/[1-9])SM")
_FRACTION = _group(r"\d{1,2}/\d{1,2}SM")
_RANGE = _group(r"R(\d\d[LCR]?)/([MP]?)(\d{4})(V[MP]?\d{4})?(FT)?(/?[UDN])?")
_WHAT = "(DZ|RA|SN|SG|IC|PL|GR|GS|UP){1,3}|BR|FG|FU|VA|DU|SA|HZ|PY|PO|SQ|FC|SS|DS"
_PHENOMENON = _group(rf"([+-]|VC)?(MI|PR|BC|DR|BL|SH|TS|FZ)?({_WHAT})|[+-]?TS|VC(TS|SH)")
_CLOUD = _group(r"(FEW|SCT|BKN|OVC|VV)(\d{3}|///)(CB|TCU|///)?")
_CLEAR = ("SKC", "CLR", "NSC", "NCD")
_TEMPERATURE = _group(r"(M?\d\d)/(M?\d\d|//)?")
_PRESSURE = _group(r"[QA]\d{4}")
_COVER: dict[str, Cover] = {
    "FEW": "few",
    "SCT": "scattered",
    "BKN": "broken",
    "OVC": "overcast",
    "VV": "obscured",
}
_SILENT = _group(r"(/+(KT|MPS)?|[QA]/{4}|//+/?//+|R\d\d[LCR]?/////|/{6,}(CB|TCU)?)")
_OTHER = re.compile(r"[^!-~\s]")
"""What no report is written with; shown as a question mark, so that it does nothing to a screen."""
_QUIET = _group(r"(AUTO|COR|CC[A-Z]|NSW|RE[A-Z]{2,6}|WS|ALL|RWY\d*[LCR]?|R\d\d[LCR]?/[\d/]{6}|R/SNOCLO)")
"""Groups that the report may have and the brief has no use for."""
_MISSING = {"wind": "wind_kt", "visibility": "visibility_m", "temperature": "temperature_c", "pressure": "qnh_hpa"}


class NotAReport(ValueError):
    """The text is no weather report: says what one begins with."""


def decode(text: str) -> Weather:
    """The report in *text* (at most 1000 characters). Raises `NotAReport`, and nothing else."""
    groups = _groups(text)
    weather = Weather(text=" ".join(groups), station=groups[0], automatic="AUTO" in groups, corrected="COR" in groups)
    unread: list[str] = []
    if len(groups) > 1 and (found := _time(groups[1])) is not None:
        weather = replace(weather, day=found[0], hour=found[1], minute=found[2])
        rest = groups[2:]
    else:
        rest = groups[1:]
    warmth = ""
    for group in _joined(rest):
        if _TEMPERATURE.match(group) and weather.temperature_c is not None:
            unread.append(warmth)  # it stands behind all but the pressure: of two, the last is the temperature
            weather = replace(weather, temperature_c=None, dew_point_c=None)
        warmth = group if _TEMPERATURE.match(group) else warmth
        read = _read(group, weather)
        if read is None:
            unread.append(group)
        else:
            weather = read
    if weather.dew_point_c is not None and weather.temperature_c is not None:
        if weather.dew_point_c > weather.temperature_c + 1:
            unread.append(warmth)
            weather = replace(weather, temperature_c=None, dew_point_c=None)
    missing = tuple(name for name, field in _MISSING.items() if getattr(weather, field) is None)
    return replace(weather, unread=tuple(unread), missing=missing)


def _groups(text: str) -> list[str]:
    """The groups of the report itself, from the station on."""
    if len(text) > LONGEST:
        raise NotAReport(f"a weather report is at most {LONGEST} characters long, this has {len(text)}")
    words = _OTHER.sub("?", text.split("=")[0].upper()).split()
    named = bool(words) and words[0] in ("METAR", "SPECI")
    if named:
        words = words[1:]
    if words and words[0] == "COR":
        words = [*words[1:3], "COR", *words[3:]]
    timed = len(words) > 1 and _time(words[1]) is not None
    if not words or not words[0].isascii() or not _STATION.match(words[0]) or not (named or timed):
        raise NotAReport("a weather report begins with METAR and a station of four letters: METAR XQTH 041820Z ...")
    end = next((i for i, word in enumerate(words) if _END.match(word)), len(words))
    return words[:end]


def _time(group: str) -> tuple[int, int, int] | None:
    found = _TIME.match(group)
    if found is None:
        return None
    day, hour, minute = (int(part) for part in found.groups())
    return (day, hour, minute) if 1 <= day <= 31 and hour <= 23 and minute <= 59 else None


def _joined(groups: Iterable[str]) -> list[str]:
    """`1 1/2SM` is one group."""
    joined: list[str] = []
    for group in groups:
        if joined and joined[-1].isdigit() and len(joined[-1]) <= 2 and _FRACTION.match(group):
            joined[-1] += f" {group}"
        else:
            joined.append(group)
    return joined


def _read(group: str, weather: Weather) -> Weather | None:
    """The report with what *group* adds; None when it cannot be read or believed. The first of two of a kind holds."""
    if not group.isascii():
        return None
    if _says_nothing(group) or _QUIET.match(group):
        return weather
    if group in ("NIL", "CAVOK") or group in _CLEAR:
        sees = group == "CAVOK" and weather.visibility_m is None
        return replace(weather, visibility_m=TEN_KM_M) if sees else weather
    for pattern, reader in _READERS:
        if pattern.match(group):
            return reader(group, weather)
    return None


def _says_nothing(group: str) -> bool:
    """`////`, `/////KT`, `Q////`: the station knows that it does not know."""
    return "/" in group and _SILENT.match(group) is not None


def _wind(group: str, weather: Weather) -> Weather | None:
    report = _library(group)
    if report is None or report.wind_speed is None:
        return None
    kt = float(report.wind_speed.value("KT"))
    gust = None if report.wind_gust is None else float(report.wind_gust.value("KT"))
    variable = group.startswith("VRB")
    degrees = None if variable or kt == 0 else float(group[:3])
    calm = kt == 0 and not variable
    if (
        (calm and group[:3] != "000")
        or kt > 199
        or (gust is not None and not kt <= gust <= 199)
        or weather.wind_kt is not None
    ):
        return None
    return replace(weather, wind_from_deg=degrees, wind_variable=variable, wind_kt=kt, gust_kt=gust)


def _between(group: str, weather: Weather) -> Weather | None:
    ends = float(group[:3]), float(group[4:])
    return None if max(ends) > 360 else replace(weather, wind_between_deg=ends)


def _metres(group: str, weather: Weather) -> Weather | None:
    """Four figures are metres, and 9999 stands for ten kilometres or more."""
    metres = TEN_KM_M if group.startswith("9999") else float(group[:4])
    return None if weather.visibility_m is not None else replace(weather, visibility_m=metres)


def _miles(group: str, weather: Weather) -> Weather | None:
    report = _library(group)
    if report is None or report.vis is None or weather.visibility_m is not None:
        return None
    return replace(weather, visibility_m=min(round(float(report.vis.value("M")), 1), TEN_KM_M))


def _range(group: str, weather: Weather) -> Weather | None:
    found = _RANGE.match(group)
    assert found is not None
    lowest = min(float(found[3]), float(found[4].lstrip("VMP")) if found[4] else float(found[3]))
    metres = lowest * (0.3048 if found[5] else 1.0)
    return replace(weather, runway_ranges=(*weather.runway_ranges, (found[1], round(metres, 1))))


def _phenomenon(group: str, weather: Weather) -> Weather | None:
    return replace(weather, phenomena=(*weather.phenomena, group))


def _cloud(group: str, weather: Weather) -> Weather | None:
    found = _CLOUD.match(group)
    assert found is not None
    base = None if found[2] == "///" else float(found[2]) * 100
    kind = found[3] if found[3] in ("CB", "TCU") else ""
    return replace(weather, clouds=(*weather.clouds, Cloud(cover=_COVER[found[1]], base_ft=base, kind=kind)))


def _temperature(group: str, weather: Weather) -> Weather | None:
    report = _library(group)
    if report is None or report.temp is None or weather.temperature_c is not None:
        return None
    air = float(report.temp.value("C"))
    dew = None if report.dewpt is None else float(report.dewpt.value("C"))
    if not -80 <= air <= 60 or (dew is not None and not -90 <= dew <= 40):
        return None
    return replace(weather, temperature_c=air, dew_point_c=dew)


def _pressure(group: str, weather: Weather) -> Weather | None:
    report = _library(group)
    if report is None or report.press is None:
        return None
    hpa = round(float(report.press.value("HPA")), 1)
    if not 850 <= hpa <= 1085:
        return None
    return weather if weather.qnh_hpa is not None else replace(weather, qnh_hpa=hpa)


def _ignored(group: str, weather: Weather) -> Weather | None:
    return weather


_Reader = Callable[[str, Weather], Weather | None]
_READERS: tuple[tuple[re.Pattern[str], _Reader], ...] = (
    (_WIND, _wind),
    (_BETWEEN, _between),
    (_METRES, _metres),
    (_MILES, _miles),
    (_SECTOR, _ignored),
    (_RANGE, _range),
    (_CLOUD, _cloud),
    (_TEMPERATURE, _temperature),
    (_PRESSURE, _pressure),
    (_PHENOMENON, _phenomenon),
)


def _library(group: str) -> Any:
    """A report of this one group, read by the library; None where it cannot. The date is made up and not shown."""
    from metar import Metar

    try:
        return Metar.Metar(f"METAR XXXX 010000Z {group}", month=1, year=2000, strict=False)
    except Exception:  # the library promises ParserError alone, and keeps no promise on what it did not foresee
        return None
