"""What is too large is refused with the bound, and what is just within it is not."""

from math import inf, nan

import pytest

from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.wire.link.bounds import unfit_input

CPT = Seat.CAPTAIN


@pytest.mark.parametrize(
    ("input_", "words"),
    [
        (inp.Act(at=0, seat=CPT, item="x" * 81), "item: expected at most 80 characters, found 81"),
        (inp.Interrupt(at=0, words="x" * 401, length_s=1), "words: expected at most 400 characters, found 401"),
        (inp.HoldList(at=0, seat=CPT, checklist="x", why="y" * 401), "why: expected at most 400 characters, found 401"),
        (inp.Act(at=0, seat=CPT, item="x", value=2e9), "value: expected a number to 1e+09, found 2e+09"),
        (inp.Act(at=0, seat=CPT, item="x", value=nan), "value: expected a number to 1e+09, found nan"),
        (inp.SetPace(at=0, pace=inf), "pace: expected a number to 1e+09, found inf"),
        (inp.Defer(at=0, seat=CPT, item="x", in_s=-1.0), "in_s: expected 0 to 86400 s, found -1"),
        (inp.Interrupt(at=0, words="", length_s=86401.0), "length_s: expected 0 to 86400 s, found 86401"),
        (inp.Answer(at=0, seat=CPT, line="x", value="v" * 81), "value: expected at most 80 characters, found 81"),
    ],
)
def test_too_large(input_: inp.Input, words: str) -> None:
    assert unfit_input(input_) == words


@pytest.mark.parametrize(
    "input_",
    [
        inp.Act(at=10**30, seat=CPT, item="x" * 80, value=1e9),
        inp.Interrupt(at=-5, words="x" * 400, length_s=86400.0),
        inp.Defer(at=0, seat=CPT, item="x", cue=None, in_s=0.0),
        inp.Tell(at=0, fact="f", value=True, seat=None),
    ],
)
def test_just_within(input_: inp.Input) -> None:
    assert unfit_input(input_) == ""
