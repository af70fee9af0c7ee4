"""The workload for the peers: 40 conditions in the manner of a deck, and one flight in 20,000 samples.

Two-valued on purpose, so that every peer can say it: all signals are known in every sample and nothing is
held, rising or since. flowdeck asks at each of them all the same whether it is known. The figures belong to no
aeroplane.

Readings are whole multiples of powers of two, so that sums and products come out alike in binary and in decimal
arithmetic, and no peer differs from another by a rounding.
"""

import ast
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from itertools import islice
from random import Random
from typing import TypeAlias

Sample: TypeAlias = dict[str, float | str | bool]
"""What the signals show, by name, in the order of `SIGNALS`."""

TEXTS: tuple[str, ...] = (
    "altitude_ft <= 20000",
    "altitude_ft < 10000 and ias_kt > 250",
    "10000 < altitude_ft <= 13500",
    "distance_nm <= 76 and not on_ground",
    "distance_nm <= 55",
    "distance_nm <= 25 or altitude_ft <= 8500",
    "distance_nm <= 11 and flap_deg >= 3 and ias_kt <= 217",
    "distance_nm <= 14 and gear == 'up'",
    "0 < distance_nm <= 5.8",
    "height_aal_ft <= 2500",
    "height_aal_ft <= 1000",
    "height_aal_ft <= 500 and not on_ground",
    "1000 < height_aal_ft <= 1300 and not in_cloud",
    "height_aal_ft <= 2000 and in_cloud",
    "flap_deg == 31 and gear == 'down'",
    "flap_deg > 0 and ias_kt > 205",
    "flap_deg in (11, 21)",
    "flap_deg not in (0, 31)",
    "gear == 'moving'",
    "gear != 'up'",
    "gear != 'down' and height_aal_ft <= 2900",
    "vertical_mode == 'path'",
    "vertical_mode in ('hold', 'descend')",
    "vertical_mode == 'hold' and distance_nm > 20",
    "tat_c <= 10 and in_cloud",
    "tat_c > 12 or not in_cloud",
    "-5 <= tat_c <= 10",
    "on_ground and ias_kt < 60",
    "on_ground and ias_kt > 100",
    "not on_ground and vertical_speed_fpm < -1500",
    "vertical_speed_fpm < -800 and height_aal_ft < 1000",
    "abs(ias_kt - selected_speed_kt) <= 5",
    "ias_kt > selected_speed_kt + 10 or ias_kt < selected_speed_kt - 5",
    "-900 <= vertical_speed_fpm <= -500",
    "altitude_ft - height_aal_ft > 500",
    "distance_nm > 1 and altitude_ft / distance_nm > 350",
    "max(ias_kt, selected_speed_kt) > 180 and height_aal_ft < 4000",
    "(flap_deg == 31 or ias_kt > 160) and (gear == 'down' or height_aal_ft > 2000) and not in_cloud",
    "height_aal_ft * 2 + 500 < altitude_ft or on_ground",
    "height_aal_ft <= 1000 and not (flap_deg == 31 and gear == 'down' and abs(ias_kt - selected_speed_kt) <= 10)",
)
"""The conditions. Each is both a condition of flowdeck and an expression of Python, and means the same in both."""

SIGNALS: tuple[str, ...] = (
    "altitude_ft",
    "height_aal_ft",
    "distance_nm",
    "ias_kt",
    "selected_speed_kt",
    "vertical_speed_fpm",
    "tat_c",
    "flap_deg",
    "gear",
    "vertical_mode",
    "in_cloud",
    "on_ground",
)
"""What the conditions read."""

SAMPLES = 20_000
_STRETCH = slice(14_000, 16_000)

Trace: TypeAlias = list[tuple[int, int, bool]]
"""(number of the sample, number of the condition, its new state), sample by sample."""

Run: TypeAlias = Callable[[Sequence[Sample]], Trace]
"""Follows a flight from its first sample, every condition false before it."""

Guard: TypeAlias = Callable[[Sample], bool]

BUILTINS = {"abs": abs, "max": max}
"""The functions that the conditions call."""


@cache
def samples() -> tuple[Sample, ...]:
    """A descent from 24,000 ft to the taxiway, fifteen samples a second; the same in every run."""
    return tuple(islice(_descent(Random(1)), SAMPLES))


def stretch() -> tuple[Sample, ...]:
    """2,000 samples on end, in which about as many conditions change as in the mean of the flight: for slow peers."""
    return samples()[_STRETCH]


def thinned(count: int) -> tuple[Sample, ...]:
    """*count* samples spread evenly over the whole flight."""
    return samples()[:: SAMPLES // count][:count]


def followed(look: Callable[[Sample], Sequence[bool]], flight: Sequence[Sample]) -> Trace:
    """The trace of a peer that answers all conditions at once and remembers nothing."""
    trace: Trace = []
    before: Sequence[bool] = (False,) * len(TEXTS)
    for at, sample in enumerate(flight):
        now = look(sample)
        if now != before:
            trace += [(at, n, new) for n, (new, old) in enumerate(zip(now, before, strict=True)) if new is not old]
            before = now
    return trace


def as_list() -> str:
    """All conditions as the text of one Python list."""
    return "[" + ", ".join(TEXTS) + "]"


def bare_source() -> str:
    """What a hand would write: each signal in a local, then all comparisons in one list."""
    reads = "".join(f"    {name} = sample[{name!r}]\n" for name in SIGNALS)
    return f"def look(sample):\n{reads}    return {as_list()}\n"


def bare() -> Callable[[Sample], list[bool]]:
    """The compiled `bare_source`."""
    space: dict[str, Callable[[Sample], list[bool]]] = {}
    exec(bare_source(), {"__builtins__": BUILTINS}, space)
    return space["look"]


def guards() -> tuple[Guard, ...]:
    """A Python function for each condition, of one sample: what a library that takes callables is given."""
    return tuple(eval(f"lambda sample: {_reading(text)}", {"__builtins__": BUILTINS}) for text in TEXTS)


def _reading(text: str) -> str:
    """*text* with each signal read from `sample`."""

    class Reads(ast.NodeTransformer):
        def visit_Name(self, node: ast.Name) -> ast.expr:
            if node.id not in SIGNALS:
                return node
            return ast.Subscript(ast.Name("sample", ast.Load()), ast.Constant(node.id), ast.Load())

    return ast.unparse(ast.fix_missing_locations(Reads().visit(ast.parse(text, mode="eval"))))


# The flight, flown for the bench alone: flowdeck's own aeroplane knows far more than the peers need.

_STEP_S = 1 / 15
_ELEVATION_FT = 640.0
_PATH_FT_NM = 318.0  # three degrees
_FLAP_AT_NM = ((5.2, 31.0), (7.0, 21.0), (11.5, 11.0), (16.0, 3.0))
_SPEED_AT_NM = ((5.2, 142.0), (8.0, 160.0), (13.0, 190.0), (22.0, 220.0), (40.0, 250.0))


class _Drift:
    """A value that wanders about zero: *size* is its standard deviation, *slow_s* how long it remembers."""

    def __init__(self, random: Random, size: float, slow_s: float) -> None:
        self._random, self._keep, self.value = random, 1 - _STEP_S / slow_s, 0.0
        self._kick = size * (1 - self._keep**2) ** 0.5

    def step(self) -> float:
        self.value = self.value * self._keep + self._random.gauss(0, self._kick)
        return self.value


def _descent(random: Random) -> Iterator[Sample]:
    gust, lift, base = _Drift(random, 2.5, 20), _Drift(random, 90, 8), _Drift(random, 120, 30)
    distance, height, speed, sink = 108.0, 24000.0, 288.0, 0.0
    flap, gear_s, landed = 0.0, 0.0, False
    while True:
        selected = _for_distance(_SPEED_AT_NM, distance, 285.0)
        wanted, mode = _vertical(distance, height)
        if landed:
            speed = max(speed - 3.2 * _STEP_S, 14.0)
            height = sink = 0.0
        else:
            speed += (selected - speed) / 22 * _STEP_S
            aim = max(min((wanted - height) / 12 * 60, 0.0), -1900.0)
            sink += (aim - sink) / 4 * _STEP_S
            height += (sink + lift.step()) / 60 * _STEP_S
            landed = height <= 0
        distance -= speed * (1 + height / 65000) / 3600 * _STEP_S
        due = _for_distance(_FLAP_AT_NM, distance, 0.0)
        flap = min(flap + 1.5 * _STEP_S, due)
        gear_s += _STEP_S if distance < 7.6 else 0
        shown = 0.0 if landed else height
        ias = speed if landed else speed + gust.step()
        cloud = base.step()
        yield {
            "altitude_ft": _even(shown + _ELEVATION_FT - (230 if height > 7000 else 0), 4),
            "height_aal_ft": _even(shown, 4),
            "distance_nm": _even(distance, 256) or 1 / 256,
            "ias_kt": _even(ias, 16),
            "selected_speed_kt": selected,
            "vertical_speed_fpm": 0.0 if landed else _even(sink + lift.value, 1),
            "tat_c": _even(16 - height * 0.0019 + (ias / 100) ** 2, 8),
            "flap_deg": _even(flap, 8) if flap < due else due,
            "gear": "up" if not gear_s else "moving" if gear_s < 9 else "down",
            "vertical_mode": "none" if landed else mode,
            "in_cloud": 8500 < height + cloud < 13000 or 1500 < height + cloud < 4200,
            "on_ground": landed,
        }


def _vertical(distance: float, height: float) -> tuple[float, str]:
    """The height to be at, ft, and the mode that flies there: two level stretches, then the path."""
    path = max(distance, 0.0) * _PATH_FT_NM - 40
    if distance < 11 and height >= path - 150:
        return path, "path"
    floor = 11000.0 if distance > 34 else 3000.0
    level = max(min(path + 1200, 24000.0), floor)
    return level, "hold" if height - level < 60 else "descend"


def _for_distance(steps: tuple[tuple[float, float], ...], distance: float, otherwise: float) -> float:
    return next((value for inside, value in steps if distance <= inside), otherwise)


def _even(value: float, parts: int) -> float:
    """*value* to the nearest 1/*parts*, a power of two."""
    return round(value * parts) / parts
