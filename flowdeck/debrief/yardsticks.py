"""Published counts of line studies, to stand beside a flight's own: who was observed, and where it was read.

They are not limits, and nothing here grades a person. A whole observed flight is longer than an arrival.
"""

from typing import NamedTuple


class Yardstick(NamedTuple):
    """*about*: what it is to be held against; *words*: the count; *population*; *source* with how it was read."""

    about: str
    words: str
    population: str
    source: str


_FLIGHTS = "60 observed airline flights"
_STUDY = "NASA/TM-2010-216396, second-hand"

YARDSTICKS: tuple[Yardstick, ...] = (
    Yardstick("checklists", "194 deviations, 3.2 a flight", _FLIGHTS, _STUDY),
    Yardstick("procedures", "314 deviations, 5.2 a flight", _FLIGHTS, _STUDY),
    Yardstick("monitoring and calls", "391 deviations, 6.5 a flight", _FLIGHTS, _STUDY),
    Yardstick("call one thousand to go", "missed about one time in three", _FLIGHTS, _STUDY),
    Yardstick("trapped", "18 of 100 deviations; checklists 14, monitoring 6, procedures 35", _FLIGHTS, _STUDY),
    Yardstick("trapped by", "of 100 trapped: the other pilot 63, the maker 17, others 19", _FLIGHTS, _STUDY),
    Yardstick("lists not called", "13, of which the other pilot caught 10", _FLIGHTS, _STUDY),
)
