"""What is said of arrival and aircraft files with one thing wrong: each change of a good file, and every finding.

After a message was changed on purpose, `UPDATE_OUT=1` writes the .out file anew: read the difference.
"""

from pathlib import Path

import pytest

from flowdeck.live.bundled import read_arrival
from flowdeck.model.diagnostic import Rejected
from flowdeck.phasefile.loadaircraft import load_aircraft
from flowdeck.phasefile.loadarrival import load_arrival
from tests.support.expected import expected

ROOT = Path(__file__).resolve().parents[2] / "scenarios"
OUT = Path(__file__).with_name("arrival_findings.out")
ARRIVAL = (ROOT / "arrivals" / "tarn-holm.yaml").read_text(encoding="utf-8")
AIRCRAFT = (ROOT / "aircraft" / "corvane-2.yaml").read_text(encoding="utf-8")
WEATHER = "weather: METAR XQTH 041820Z 07008KT 6000 -RA BKN015 13/11 Q1009"
FIX = "    - {fix: NOLDE, distance_nm: 6.2, at_or_above_ft: 2450}"

ARRIVALS: dict[str, tuple[str, str]] = {
    "elevation beyond any aerodrome": ("elevation_ft: 430, variation", "elevation_ft: 31000, variation"),
    "angle too steep to be one": ("angle_deg: 3.0", "angle_deg: 30"),
    "a word for a number": ("landing_distance_m: 2150", "landing_distance_m: long"),
    "a frequency of another band": ("mhz: 112.35", "mhz: 1123.5"),
    "an ident in small letters": ("ident: TRN", "ident: trn"),
    "an unknown kind": ("kind: non_precision", "kind: nonprecision"),
    "a key that was mistyped": ("missed: {altitude_ft: 3000", "missed: {altitude_feet: 3000"),
    "two constraints at one fix": (FIX, FIX.replace("}", ", at_or_below_ft: 3000}")),
    "a span upside down": ("between_ft: [7000, 12000]", "between_ft: [12000, 7000]"),
    "a climb on the way down": (FIX, FIX.replace("2450", "2950")),
    "fixes out of order": ("distance_nm: 11,", "distance_nm: 18,"),
    "a fix twice": ("fix: LUMIT", "fix: BRENA"),
    "a final fix that is none": ("final_fix: NOLDE", "final_fix: NOLDA"),
    "a category twice": ("category: D", "category: C"),
    "a minimum below the ground": ("altitude_ft: 780", "altitude_ft: 380"),
    "a minimum above the missed approach": ("altitude_ft: 780", "altitude_ft: 3000"),
    "a table that rises": ("distance_nm: 5, altitude_ft: 2070", "distance_nm: 5, altitude_ft: 2470"),
    "a threshold far from its aerodrome": ("course_deg: 72, elevation_ft: 430", "course_deg: 72, elevation_ft: 900"),
    "a course across the runway": ("  course_deg: 72\n", "  course_deg: 252\n"),
    "a start below the ground": ("distance_nm: 80, altitude_ft: 17000", "distance_nm: 80, altitude_ft: 400"),
    "more fuel than aeroplane": ("fuel_kg: 4400", "fuel_kg: 44000"),
    "no report at all": (WEATHER, "weather: nice and calm"),
    "weather twice": (WEATHER, f"{WEATHER}\nreport: {{wind_kt: 5}}"),
    "no weather": (f"{WEATHER}\n", ""),
    "a gust weaker than the wind": (WEATHER, "report: {wind_from_deg: 70, wind_kt: 12, gust_kt: 8}"),
    "a dew point above the temperature": (WEATHER, "report: {temperature_c: 4, dew_point_c: 9}"),
    "a pressure that no air has": (WEATHER, "report: {pressure_hpa: 1200}"),
    "a hold over no fix": ("alternate:", "hold: {fix: NODLE, laps: 2, altitude_ft: 6000, speed_kt: 210}\nalternate:"),
    "two winds at one altitude": ("altitude_ft: 10000, from_deg", "altitude_ft: 5000, from_deg"),
    "half a lap": ("alternate:", "hold: {fix: LUMIT, laps: 1.5, altitude_ft: 6000, speed_kt: 210}\nalternate:"),
    "an additive with the floor above the cap": (
        "alternate:",
        "policy: {additive: {floor_kt: 12, cap_kt: 8}}\nalternate:",
    ),
    "ice that comes and goes": ("alternate:", "policy: {icing: {on_c: 10, off_c: 8}}\nalternate:"),
    "a start inside the hold": (
        "start: {distance_nm: 80,",
        "hold: {fix: BRENA, laps: 2, altitude_ft: 6000, speed_kt: 210}\nstart: {distance_nm: 12,",
    ),
    "weather in words": (WEATHER, "report: {phenomena: [rain]}"),
    "a margin that shortens": ("alternate:", "policy: {margin: 0.9}\nalternate:"),
    "a status of its own": ("arrival: tarn-holm", "arrival: tarn-holm\nstatus: good"),
}
AIRCRAFTS: dict[str, tuple[str, str]] = {
    "flaps out of order": ("{flap_deg: 11, minimum_kt: 164", "{flap_deg: 2, minimum_kt: 164"),
    "more flap and faster": ("minimum_kt: 149", "minimum_kt: 170"),
    "a limit below the minimum": ("limit_kt: 173", "limit_kt: 130"),
    "masses that fall": ("{mass_kg: 44000, speed_kt: 135.7}", "{mass_kg: 40000, speed_kt: 135.7}"),
    "a step with no such flap": ("{flap_deg: 3, gear: up", "{flap_deg: 5, gear: up"),
    "a step that speeds up": ("speed_kt: 174, by_nm: 7.2", "speed_kt: 200, by_nm: 7.2"),
    "gear that comes up again": ("{flap_deg: 19, gear: down", "{flap_deg: 19, gear: up"),
    "a last step with a speed": ("{flap_deg: 31, gear: down, ", "{flap_deg: 31, gear: down, speed_kt: 140, "),
    "a step without one": ("speed_kt: 193, ", ""),
    "a table with a hole": ("distance_m: [1040, 1120, 1180, 1250, 1300]", "distance_m: [1040, 1120, 1180, 1250]"),
    "heavier and shorter": ("[890, 960, 1010, 1070, 1110]", "[890, 960, 940, 1070, 1110]"),
    "a brake that is not listed": ("surface: dry, brake: high", "surface: dry, brake: most"),
    "no deceleration": ("level_kt_s: 0.9", "level_kt_s: 0"),
    "a Mach number above one": ("mach: 0.74", "mach: 7.4"),
}


def changed(text: str, old: str, new: str) -> bytes:
    assert old in text, f"'{old}' is not in the good file"
    return text.replace(old, new, 1).encode()


def said_of(name: str) -> str:
    try:
        if name in ARRIVALS:
            load_arrival("arrival.yaml", changed(ARRIVAL, *ARRIVALS[name]), read_arrival("tarn-holm").aircraft)
        else:
            load_aircraft("aircraft.yaml", changed(AIRCRAFT, *AIRCRAFTS[name]))
    except Rejected as rejected:
        return "".join(f"{finding}\n" for finding in rejected.findings)
    return ""


def test_the_good_files_are_good() -> None:
    assert load_arrival("a.yaml", ARRIVAL.encode(), load_aircraft("b.yaml", AIRCRAFT.encode())).id == "tarn-holm"


@pytest.mark.parametrize("name", [*ARRIVALS, *AIRCRAFTS])
def test_every_wrong_thing_is_found(name: str) -> None:
    assert said_of(name), "nothing was said"


def test_what_is_said_word_for_word() -> None:
    said = "\n".join(f"# {name}\n{said_of(name)}" for name in (*ARRIVALS, *AIRCRAFTS))
    assert said == expected(OUT, said)
