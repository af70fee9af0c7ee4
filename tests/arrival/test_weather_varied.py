"""Reports made at random: each value comes out as it went in, and a group that is spoilt takes no other with it."""

from typing import NamedTuple

from hypothesis import given, settings
from hypothesis import strategies as st

from flowdeck.arrival.metar import decode
from flowdeck.arrival.weather import Weather

ALWAYS = {"text", "unread", "missing"}


class Report(NamedTuple):
    """*parts*: each group with the fields that it alone gives. *values*: what must come out."""

    parts: tuple[tuple[str, frozenset[str]], ...]
    values: dict[str, object]

    @property
    def text(self) -> str:
        return " ".join(["METAR XQTH", *(group for group, _ in self.parts)])


def signed(value: int) -> str:
    return f"M{-value:02}" if value < 0 else f"{value:02}"


@st.composite
def reports(draw: st.DrawFn) -> Report:
    day, hour, minute = draw(st.integers(1, 31)), draw(st.integers(0, 23)), draw(st.integers(0, 59))
    course, kt, more = draw(st.integers(1, 36)) * 10, draw(st.integers(1, 60)), draw(st.integers(0, 30))
    metres = draw(st.integers(0, 99)) * 100
    air, spread = draw(st.integers(-40, 40)), draw(st.integers(0, 20))
    qnh, base = draw(st.integers(900, 1060)), draw(st.integers(0, 250))
    falls = draw(st.sampled_from(["-RA", "+SN", "FZFG", "TSRA", "-SHRASN", "BR"]))
    gust = f"G{kt + more:02}" if more else ""
    parts = (
        (f"{day:02}{hour:02}{minute:02}Z", frozenset({"day", "hour", "minute"})),
        (f"{course:03}{kt:02}{gust}KT", frozenset({"wind_from_deg", "wind_kt", "gust_kt", "wind_variable"})),
        (f"{metres:04}", frozenset({"visibility_m"})),
        (falls, frozenset({"phenomena"})),
        (f"BKN{base:03}", frozenset({"clouds"})),
        (f"{signed(air)}/{signed(air - spread)}", frozenset({"temperature_c", "dew_point_c"})),
        (f"Q{qnh:04}", frozenset({"qnh_hpa"})),
    )
    values: dict[str, object] = {
        "day": day, "hour": hour, "minute": minute, "wind_from_deg": course, "wind_kt": kt,
        "gust_kt": kt + more if more else None, "visibility_m": metres, "phenomena": (falls,), "temperature_c": air,
        "dew_point_c": air - spread, "qnh_hpa": qnh, "unread": (), "missing": (),
    }  # fmt: skip
    return Report(parts, values)


def different(one: Weather, other: Weather) -> set[str]:
    return {f for f in Weather.__struct_fields__ if getattr(one, f) != getattr(other, f)} - ALWAYS


@given(reports())
def test_what_goes_in_comes_out(report: Report) -> None:
    found = decode(report.text)
    assert {field: getattr(found, field) for field in report.values} == report.values
    assert [cloud.base_ft for cloud in found.clouds] == [float(report.parts[4][0][3:]) * 100]


@settings(max_examples=300)
@given(reports(), st.data())
def test_a_group_left_out_takes_its_own_fields_alone(report: Report, data: st.DataObject) -> None:
    gone = data.draw(st.integers(0, len(report.parts) - 1))
    less = report._replace(parts=report.parts[:gone] + report.parts[gone + 1 :])
    lost = different(decode(report.text), decode(less.text))
    assert lost and lost <= report.parts[gone][1]


@settings(max_examples=250)
@given(reports(), st.data())
def test_one_wrong_letter_spoils_its_own_fields_alone(report: Report, data: st.DataObject) -> None:
    """A letter is changed, lost or put in. It may read as another value of its kind, never as another kind."""
    at = data.draw(st.integers(0, len(report.parts) - 1))
    group, fields = report.parts[at]
    place = data.draw(st.integers(0, len(group) - 1))
    letter = data.draw(st.sampled_from(["", "?", "X", "0", "9", "/", "M", "\u00e9"]))
    until = place + data.draw(st.integers(0, 1))
    spoilt = group[:place] + letter + group[until:]
    parts = (*report.parts[:at], (spoilt, fields), *report.parts[at + 1 :])
    assert different(decode(report.text), decode(report._replace(parts=parts).text)) <= fields


@given(reports(), st.sampled_from(["TEMPO", "BECMG", "RMK", "NOSIG", "FM1900"]), reports())
def test_what_stands_behind_a_trend_is_another_report(report: Report, trend: str, later: Report) -> None:
    groups = " ".join(group for group, _ in later.parts)
    assert decode(f"{report.text} {trend} {groups}") == decode(report.text)


def test_a_visibility_spoilt_by_a_stroke_is_no_temperature() -> None:
    """It would displace the true temperature, and with it the correction for cold and the ice."""
    found = decode("METAR XQTH 041820Z 07008KT 60/00 -RA BKN015 13/11 Q1009")
    assert (found.temperature_c, found.dew_point_c) == (13, 11)
