"""Conditions and names as the screen and the record say them, for every way of writing a condition."""

import pytest

from flowdeck.engine.words import in_words, short, signals_of, title
from flowdeck.engine.work import said
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Deck
from tests.engine.test_edges import changed
from tests.support.small import APPROACH, DECK, small_deck

OWN = "signals:\n  oil_low: {title: Oil low, flag: true, stale_s: 5}\nmarks:\n"


def marked(condition: str) -> Deck:
    """The small deck with a signal of its own and one more mark."""
    return small_deck(deck=changed(DECK, "marks:\n", f'{OWN}  asked: {{when: "{condition}"}}\n'))


WORDS = [
    ("distance_nm <= 8", "dist \u2264 8 NM"),
    ("height_aal_ft >= 1500", "above field \u2265 1500 ft"),
    ("ias_kt < 217.5", "ias < 217.5 kt"),
    ("tat_c > -3", "tat > -3 C"),
    ("gear == 'down'", "gear down"),
    ("gear != 'down'", "gear not down"),
    ("flap_deg == 31", "flap 31"),
    ("stand_distance_m < 10", "stand < 10 m"),
    ("n2_1_pct > 20", "N2 1 > 20%"),
    ("pressure_left_hpa > 1000", "press L > 1000 hPa"),
    ("fuel_kg < 2000", "fuel < 2000 kg"),
    ("8 > distance_nm", "8 > dist"),
    ("1000 < altitude_ft <= 2000", "1000 < alt \u2264 2000 ft"),
    ("altitude_ft > selected_altitude_ft", "alt > sel alt"),
    ("altitude_ft - selected_altitude_ft > 300", "alt - sel alt > 300"),
    ("abs(altitude_ft - selected_altitude_ft) <= 300", "alt - sel alt \u2264 300"),
    ("abs(vertical_speed_fpm) > 300", "v/s > 300"),
    ("abs(past_threshold_m) < 300", "past thr < 300 m"),
    ("min(n2_1_pct, n2_2_pct) < 20", "min of N2 1, N2 2 < 20"),
    ("-tat_c > 3", "-tat > 3"),
    ("turn(heading_deg, selected_heading_deg) > 5", "turn from hdg to selected heading > 5"),
    ("in_cloud", "in cloud"),
    ("not in_cloud", "not in cloud"),
    ("in_cloud == true", "in cloud yes"),
    ("in_cloud == false", "in cloud no"),
    ("oil_low and wet", "oil low and runway contaminated"),
    ("oil_low or wet or on_ground", "oil low or runway contaminated or on ground"),
    ("oil_low and (wet or on_ground)", "oil low and (runway contaminated or on ground)"),
    ("oil_low and wet or on_ground", "(oil low and runway contaminated) or on ground"),
    ("not (oil_low or wet)", "not (oil low or runway contaminated)"),
    ("flap_deg in (19, 31)", "flap 19 or 31"),
    ("flap_deg not in (19, 31)", "flap not 19 or 31"),
    ("phase == 'landing'", "phase landing"),
    ("done('gear-down')", "after Gear DOWN"),
    ("done('landing-list')", "after Landing checklist"),
    ("done('stable')", "after Stabilised"),
    ("done('to-go')", "after 'One thousand to go'"),
    ("done('speed')", "after Speed"),
    ("since('gear-down') > 60", "60 s after Gear DOWN"),
    ("since('touchdown') >= 5", "5 s after touchdown"),
    ("since('landing') > 5", "5 s after Landing"),
    ("since('gear-down') >= 0", "after Gear DOWN"),
    ("since('touchdown') < 60", "time since touchdown < 60 s"),
    ("10 < since('touchdown') < 60", "10 < time since touchdown < 60 s"),
    ("age(tat_c) > 30", "age of tat > 30 s"),
    ("held(in_cloud, 60)", "in cloud for 60 s"),
    ("held(in_cloud, 2.5)", "in cloud for 2.5 s"),
    ("held(in_cloud and on_ground, 3)", "(in cloud and on ground) for 3 s"),
    ("rising(on_ground)", "on ground begins"),
    ("falling(in_cloud)", "in cloud ends"),
]


@pytest.mark.parametrize(("condition", "words"), WORDS)
def test_a_condition_in_words(condition: str, words: str) -> None:
    """Short names, units with bare bounds, and no sign where none is spoken."""
    deck = marked(condition)
    assert in_words(deck, deck.marks["asked"].when) == words


def test_names_of_what_a_pilot_knows() -> None:
    """An action by what it is and where it goes, a call in quotes, a value that varies by its name alone."""
    deck = small_deck()
    names = {
        "gear-down": "Gear DOWN",
        "speed": "Speed",
        "ll-altimeters": "Altimeters",
        "ll-gear": "Gear DOWN",
        "to-go": "'One thousand to go'",
        "to-go-answer": "'Agreed'",
        "anti-ice-on": "Engine anti-ice ON",
        "landing-list": "Landing checklist",
        "stable": "Stabilised",
        "go_around": "Go-around",
        "touchdown": "touchdown",
        "on-ground": "on ground",
    }
    assert {ref: title(deck, ref) for ref in names} == names


def test_a_call_that_names_a_reading_leaves_it_open() -> None:
    """'Two thousand selected' is named before anybody knows the figure."""
    text = changed(APPROACH, "say: One thousand to go", 'say: "{selected_altitude_ft} selected, one thousand to go"')
    assert title(small_deck(approach=text), "to-go") == "'... selected, one thousand to go'"


def test_a_signal_without_a_short_name_goes_by_its_title() -> None:
    signals = signals_of(small_deck())
    assert short(signals["distance_nm"]) == "dist"
    assert short(signals["selected_heading_deg"]) == "selected heading"


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (None, "?"),
        (True, "yes"),
        (False, "no"),
        (3000.0, "3000"),
        (150, "150"),
        (199.994, "199.99"),
        (200.4, "200"),
        (-250.6, "-251"),
        (29.92, "29.92"),
        (7.0, "7"),
        ("level_change", "level change"),
    ],
)
def test_a_reading_as_it_is_said(value: Scalar | None, words: str) -> None:
    """Whole where whole is said, two figures below 200, a question mark for what is not known."""
    assert said(value) == words
