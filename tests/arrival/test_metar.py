"""METARs: the published decode, groups one by one, and that nothing that is garbled takes anything else with it."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flowdeck.arrival.metar import LONGEST, NotAReport, decode
from flowdeck.arrival.weather import Cloud, Weather, ceiling_ft, ceiling_is_unknown, moisture, precipitation

GOOD = "METAR XQTH 041820Z 07008G19KT 040V110 6000 R07/P1500 -RA BKN015 OVC030CB 13/11 Q1009"
FIELDS = Weather.__struct_fields__
PARTS = {
    "07008G19KT": {"wind_from_deg", "wind_kt", "gust_kt", "wind_variable"},
    "040V110": {"wind_between_deg"},
    "6000": {"visibility_m"},
    "R07/P1500": {"runway_ranges"},
    "-RA": {"phenomena"},
    "BKN015": {"clouds"},
    "OVC030CB": {"clouds"},
    "13/11": {"temperature_c", "dew_point_c"},
    "Q1009": {"qnh_hpa"},
}
"""Each group of the good report, and the fields that it alone gives."""
ALWAYS = {"text", "unread", "missing"}


def test_the_published_decode() -> None:
    """Source: FAA AIM FIG 7-1-19, Key to METAR and TAF (read)."""
    found = decode("METAR KPIT 091955Z COR 22015G25KT 3/4SM R28L/2600FT TSRA OVC010CB 18/16 A2992 RMK SLP045 T01820159")
    assert (found.station, found.day, found.hour, found.minute, found.corrected) == ("KPIT", 9, 19, 55, True)
    assert (found.wind_from_deg, found.wind_kt, found.gust_kt) == (220, 15, 25)
    assert found.visibility_m == 1207  # 3/4 statute mile
    assert found.runway_ranges == (("28L", 792.5),)  # 2600 ft
    assert found.phenomena == ("TSRA",)
    assert found.clouds == (Cloud(cover="overcast", base_ft=1000, kind="CB"),)
    assert (found.temperature_c, found.dew_point_c) == (18, 16), "the remark's 18.2 and 15.9 are not the report's"
    assert found.qnh_hpa == pytest.approx(29.92 * 33.8639, abs=0.1)
    assert (found.unread, found.missing) == ((), ())


@pytest.mark.parametrize(
    ("group", "field", "value"),
    [
        ("00000KT", "wind_kt", 0.0),
        ("VRB03KT", "wind_variable", True),
        ("25010MPS", "wind_kt", pytest.approx(19.44, abs=0.01)),
        ("////", "visibility_m", None),
        ("9999", "visibility_m", 10_000.0),
        ("CAVOK", "visibility_m", 10_000.0),
        ("0350", "visibility_m", 350.0),
        ("1 1/2SM", "visibility_m", 2414.0),
        ("P6SM", "visibility_m", 9656.1),
        ("M1/4SM", "visibility_m", 402.3),
        ("10SM", "visibility_m", 10_000.0),
        ("OVC///", "clouds", (Cloud(cover="overcast"),)),
        ("VV002", "clouds", (Cloud(cover="obscured", base_ft=200),)),
        ("FEW020TCU", "clouds", (Cloud(cover="few", base_ft=2000, kind="TCU"),)),
        ("NSC", "clouds", ()),
        ("M05/M07", "temperature_c", -5.0),
        ("M00/M01", "temperature_c", 0.0),
        ("Q////", "qnh_hpa", None),
        ("Q0987", "qnh_hpa", 987.0),
        ("A3002", "qnh_hpa", pytest.approx(1016.6, abs=0.1)),
        ("FZFG", "phenomena", ("FZFG",)),
        ("AUTO", "automatic", True),
    ],
)
def test_one_group(group: str, field: str, value: object) -> None:
    found = decode(f"METAR XQTH 041820Z {group}")
    assert getattr(found, field) == value
    assert found.unread == ()


@pytest.mark.parametrize(
    "group",
    ["Q0600", "Q9999", "99/11", "05/19", "36050KTS", "400123KT", "07099G10KT", "ABC", "12", "OVC0", "7/8", "Q10"],
)
def test_what_cannot_be_read_or_believed_says_nothing(group: str) -> None:
    """It is named, and no field has a value from it."""
    found = decode(f"METAR XQTH 041820Z {group}")
    assert found.unread == (group,)
    plain = decode("METAR XQTH 041820Z")
    assert [f for f in FIELDS if f not in ALWAYS and getattr(found, f) != getattr(plain, f)] == []
    assert found.missing == ("wind", "visibility", "temperature", "pressure")


@pytest.mark.parametrize(
    "trend", ["TEMPO 2000 +SN Q0950", "BECMG VRB15KT", "NOSIG", "RMK SLP045 T01820159 9999", "FM1900 CAVOK"]
)
def test_trends_and_remarks_are_no_part_of_the_report(trend: str) -> None:
    assert decode(f"{GOOD} {trend}") == decode(GOOD)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "   ",
        "nice and calm",
        "METAR",
        "METAR 041820Z 07008KT",
        "TAF XQTH",
        "x" * (LONGEST + 1),
        "\x00",
        "METAR ÄÖÜÄ",
    ],
)
def test_no_report_at_all(text: str) -> None:
    with pytest.raises(NotAReport):
        decode(text)


@pytest.mark.parametrize("gone", PARTS)
def test_a_missing_group_takes_only_its_own_fields_with_it(gone: str) -> None:
    whole, less = decode(GOOD), decode(GOOD.replace(f" {gone}", "", 1))
    different = {field for field in FIELDS if getattr(whole, field) != getattr(less, field)} - ALWAYS
    assert different
    assert different <= PARTS[gone]


@given(st.sampled_from(sorted(PARTS)), st.text("ABCDGKMQRTVZ0123456789/+-", min_size=1, max_size=12))
def test_a_garbled_group_takes_only_its_own_fields_with_it(group: str, noise: str) -> None:
    """Unless it happens to be another group that can be read, and then it can only add."""
    whole, found = decode(GOOD), decode(GOOD.replace(group, f"?{noise}", 1))
    assert f"?{noise}" in found.unread
    assert {f for f in FIELDS if getattr(whole, f) != getattr(found, f)} - ALWAYS <= PARTS[group]


@settings(max_examples=300)
@given(st.text(max_size=200))
def test_any_text_is_read_or_refused(text: str) -> None:
    for candidate in (text, f"METAR XQTH 041820Z {text}"):
        try:
            found = decode(candidate)
        except NotAReport:
            continue
        assert found == decode(candidate)
        assert found.qnh_hpa is None or 850 <= found.qnh_hpa <= 1085
        assert found.temperature_c is None or -80 <= found.temperature_c <= 60


def test_moisture_ceiling_and_what_falls() -> None:
    """Rain is moisture, mist by its visibility alone, and what is only in the vicinity is not here (from memory)."""
    assert moisture(decode("METAR XQTH 041820Z 9999 -RA"), 1600) is True
    assert moisture(decode("METAR XQTH 041820Z 1600 BR"), 1600) is True
    assert moisture(decode("METAR XQTH 041820Z 1700 BR"), 1600) is False
    assert moisture(decode("METAR XQTH 041820Z 9999 VCSH"), 1600) is False
    assert moisture(decode("METAR XQTH 041820Z ////"), 1600) is None
    assert ceiling_ft(decode("METAR XQTH 041820Z FEW010 SCT020 BKN035 OVC060")) == 3500
    assert ceiling_ft(decode("METAR XQTH 041820Z FEW010 SCT020")) is None
    assert [precipitation(decode(f"METAR XQTH 041820Z {g}")) for g in ("-DZ", "+SN", "RASN", "BR")] == [
        "rain",
        "snow",
        "mixed",
        "none",
    ]


def test_the_library_reads_each_of_them_alike() -> None:
    """Where it reads a whole report, it says the same as the groups one by one. Source: computed, metar 2.0.2."""
    from metar import Metar

    for text in (GOOD, "METAR XQSK 120650Z 13007KT 4500 -SN OVC022 M25/M27 Q1031"):
        theirs, ours = Metar.Metar(text, month=1, year=2000), decode(text)
        assert theirs.wind_speed.value("KT") == ours.wind_kt
        assert theirs.wind_dir.value() == ours.wind_from_deg
        assert theirs.vis.value("M") == ours.visibility_m
        assert theirs.temp.value("C") == ours.temperature_c
        assert theirs.press.value("HPA") == ours.qnh_hpa


def test_a_statute_mile_is_within_a_limit_of_1600_m() -> None:
    """1 SM or less with fog or mist counts (from memory); written in miles it is 1609 m."""
    assert moisture(decode("METAR XQTH 041820Z 1SM BR"), 1600) is True
    assert moisture(decode("METAR XQTH 041820Z 1 1/4SM BR"), 1600) is False


@pytest.mark.parametrize("cloud", ["OVC///", "VV///", "FEW010 BKN///"])
def test_a_ceiling_that_was_not_measured_is_not_none(cloud: str) -> None:
    assert ceiling_is_unknown(decode(f"METAR XQTH 041820Z {cloud}"))
    assert not ceiling_is_unknown(decode("METAR XQTH 041820Z FEW/// SCT010"))


@pytest.mark.parametrize("group", ["1 1/16SM", "1 1/0SM", "1/0SM"])
def test_miles_that_nobody_writes_are_not_read(group: str) -> None:
    assert decode(f"METAR XQTH 041820Z {group}").visibility_m is None


@pytest.mark.parametrize("odd", ["\u202e", "\x1b", "\u180e", "\xe9", "\u0661"])
def test_what_no_report_is_written_with_reads_as_a_question(odd: str) -> None:
    """Letters, figures and a few signs (from memory); nothing else reaches a screen."""
    found = decode(f"METAR XQTH 041820Z 0{odd}7008KT Q1009")
    assert found.text == "XQTH 041820Z 0?7008KT Q1009"
    assert (found.unread, found.wind_kt, found.qnh_hpa) == (("0?7008KT",), None, 1009)
