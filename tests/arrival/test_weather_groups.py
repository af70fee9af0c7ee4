"""Rarer groups of a METAR, what they tell of moisture and cloud, and that reading one is silent and knows no date."""

import warnings

import pytest

from flowdeck.arrival.metar import NotAReport, decode
from flowdeck.arrival.weather import Cloud, Weather, ceiling_ft, moisture, precipitation

HEAD = "METAR XQTH 041820Z"
NOTHING = ("wind", "visibility", "temperature", "pressure")


def changed(text: str) -> dict[str, object]:
    """The fields that differ from a report of which only station and time are known, but for text and missing."""
    found, plain = decode(text), decode(HEAD)
    fields = [f for f in Weather.__struct_fields__ if f not in ("text", "missing")]
    return {f: getattr(found, f) for f in fields if getattr(found, f) != getattr(plain, f)}


@pytest.mark.parametrize(
    ("groups", "fields"),
    [
        ("/////KT", {}),
        ("Q////", {}),
        ("A////", {}),
        ("//////", {}),
        ("R28L/////", {}),
        ("NCD", {}),
        ("SKC", {}),
        ("NIL", {}),
        ("00000KT", {"wind_kt": 0.0}),
        ("36010KT", {"wind_from_deg": 360.0, "wind_kt": 10.0}),
        ("24008KT 210V270", {"wind_from_deg": 240.0, "wind_kt": 8.0, "wind_between_deg": (210.0, 270.0)}),
        ("VRB02G14KT", {"wind_variable": True, "wind_kt": 2.0, "gust_kt": 14.0}),
        ("05/", {"temperature_c": 5.0}),
        ("18///", {"temperature_c": 18.0}),
        ("18/19", {"temperature_c": 18.0, "dew_point_c": 19.0}),
        ("R09/M0050", {"runway_ranges": (("09", 50.0),)}),
        ("R09/0400V0800", {"runway_ranges": (("09", 400.0),)}),
        ("R28L/1200FT/U R28R/0900", {"runway_ranges": (("28L", 365.8), ("28R", 900.0))}),
        ("VV///", {"clouds": (Cloud(cover="obscured"),)}),
        ("Q1009 A2992", {"qnh_hpa": 1009.0}),
        ("5000 2000NE", {"visibility_m": 5000.0}),
        ("Q1009=", {"qnh_hpa": 1009.0}),
    ],
)
def test_what_a_group_gives_and_nothing_else(groups: str, fields: dict[str, object]) -> None:
    assert changed(f"{HEAD} {groups}") == fields


@pytest.mark.parametrize(
    ("group", "kt"), [("05007MPS", 7 / 0.514444), ("05007G12MPS", 7 / 0.514444), ("05020KMH", 20 / 1.852)]
)
def test_other_units_of_wind(group: str, kt: float) -> None:
    """Source: computed, 1 kt = 1852 m/h."""
    assert decode(f"{HEAD} {group}").wind_kt == pytest.approx(kt, abs=0.001)


@pytest.mark.parametrize("group", ["22015G10KT", "220500KT", "Q0849", "Q1086", "A0600", "61/20", "M81/M85", "18/20"])
def test_what_no_air_does_is_named(group: str) -> None:
    assert changed(f"{HEAD} {group}") == {"unread": (group,)}
    assert decode(f"{HEAD} {group}").missing == NOTHING


def test_a_station_that_measures_nothing() -> None:
    found = decode("SPECI XQTH 041820Z AUTO /////KT //// // ////// ///// Q////")
    assert (found.automatic, found.missing, found.unread) == (True, NOTHING, ())
    assert (moisture(found, 1600), ceiling_ft(found)) == (None, None)


@pytest.mark.parametrize(
    ("groups", "moist", "falls"),
    [
        ("////", None, "none"),
        ("//// HZ", None, "none"),
        ("//// FZFG", True, "none"),
        ("//// -DZ", True, "rain"),
        ("//// IC", True, "snow"),
        ("//// UP", True, "rain"),
        ("9999 -SHRASN", True, "mixed"),
        ("9999 VCFG", False, "none"),
        ("9999 VCSH TS", False, "none"),
        ("9999 RERA", False, "none"),
        ("1500 HZ", True, "none"),
        ("CAVOK", False, "none"),
    ],
)
def test_moisture_is_three_valued(groups: str, moist: bool | None, falls: str) -> None:
    """Kinds of moisture: from memory."""
    found = decode(f"{HEAD} {groups}")
    assert moisture(found, 1600) is moist
    assert precipitation(found) == falls


def test_a_ceiling_is_the_lowest_that_was_measured() -> None:
    assert ceiling_ft(decode(f"{HEAD} SCT005 OVC030CB BKN012TCU")) == 1200
    assert ceiling_ft(decode(f"{HEAD} VV002")) == 200


@pytest.mark.parametrize("text", [f"{HEAD} 24010KT 9999 10/05 Q1009", f"{HEAD} 07099G10KT 18/20 Q9999"])
def test_reading_is_silent_and_knows_no_date(text: str, capfd: pytest.CaptureFixture[str]) -> None:
    with warnings.catch_warnings(record=True) as said:
        warnings.simplefilter("always")
        assert decode(text) == decode(text)
    assert ([str(w.message) for w in said], capfd.readouterr()) == ([], ("", ""))
    assert not {"month", "year", "time", "date"} & set(Weather.__struct_fields__)


@pytest.mark.parametrize("group", ["36115KT", "99015KT", "1/0SM"])
def test_reading_what_cannot_be_is_silent_too(group: str) -> None:
    """Outside a test nothing turns a warning into an error, and it is printed across the screen."""
    with warnings.catch_warnings(record=True) as said:
        warnings.simplefilter("always")
        decode(f"{HEAD} {group}")
    assert [str(w.message) for w in said] == []


def test_a_second_report_is_not_read_into_the_first() -> None:
    """The sign = ends a report: the pressure of another aerodrome must not become that of this one."""
    assert decode(f"{HEAD} 9999 Q1009= METAR XQAB 041820Z Q0982").qnh_hpa == 1009


def test_a_correction_before_the_station_leaves_the_time() -> None:
    found = decode("METAR COR XQTH 041820Z 24010KT")
    assert (found.corrected, found.day, found.hour, found.minute, found.unread) == (True, 4, 18, 20, ())


def test_a_direction_without_speed_is_no_calm() -> None:
    assert changed(f"{HEAD} 22500KT") == {"unread": ("22500KT",)}


@pytest.mark.parametrize("group", ["VC", "SH", "FZ", "+FZ"])
def test_half_a_phenomenon_is_none(group: str) -> None:
    assert changed(f"{HEAD} {group}") == {"unread": (group,)}


@pytest.mark.parametrize(("group", "falls"), [("TSGR", "rain"), ("BLSN", "none"), ("DRSN", "none")])
def test_codes_are_read_two_letters_at_a_time(group: str, falls: str) -> None:
    """The letters S and G of TSGR are no snow grains. Snow that is blown about does not fall (from memory)."""
    assert precipitation(decode(f"{HEAD} {group}")) == falls


def test_a_time_is_written_in_ascii() -> None:
    assert decode("METAR XQTH \u0660\u0664\u0661\u0668\u0662\u0660Z Q1009").day is None


def test_a_report_too_long() -> None:
    assert decode(HEAD + " " * (1000 - len(HEAD))).station == "XQTH"
    with pytest.raises(NotAReport, match="at most 1000 characters long, this has 1001"):
        decode(HEAD + " " * (1001 - len(HEAD)))
