"""Whether what a pilot keyed or said is the value that is wanted, as near as it is said."""

import pytest

from flowdeck.engine.judge import matches, show

SAME = [
    (150.0, 150.0),
    (150.49, 150.0),  # whole numbers to the nearest one
    (149.51, 150.0),
    (1012.6, 1013.0),
    (250.6, 250.2),  # from 200 on nobody says a fraction
    (29.924, 29.92),  # fractions to 0.005
    ("29.92", 29.92),
    (" 150 ", 150.0),
    (31, 31.0),
    ("DOWN", "down"),
    (" Down ", "down"),
    ("31", "31"),
    (True, True),
    ("true", True),
]
UNLIKE = [
    (150.5, 150.0),
    (149.5, 150.0),
    (1012.5, 1013.0),
    (29.926, 29.92),
    (30.1, 29.92),
    (0.6, 0.5),
    ("high", 150.0),
    ("", 150.0),
    ("up", "down"),
    ("yes", True),
    (False, True),
]


@pytest.mark.parametrize(("given", "wanted"), SAME)
def test_the_same_as_said(given: object, wanted: object) -> None:
    """The nearest whole number, two figures of a fraction, a word in any case."""
    assert matches(given, wanted) is True


@pytest.mark.parametrize(("given", "wanted"), UNLIKE)
def test_another_value(given: object, wanted: object) -> None:
    """Half a unit off, a hundredth off, another word, or no number where one is asked for."""
    assert matches(given, wanted) is False


@pytest.mark.parametrize(("value", "words"), [(150.0, "150"), (29.92, "29.92"), (150, "150"), ("on", "on")])
def test_a_value_in_a_sentence(value: object, words: str) -> None:
    assert show(value) == words
