"""Two hundred thousand broken files through every loader. A case that fails says how it is made again."""

import resource
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.conftest import Measured
from tests.hostile.cases import KINDS, Case, make, run

SHARES: dict[str, dict[str, range]] = {
    "small texts": {"condition": range(106_000), "keys": range(30_000)},
    "scenarios": {"scenario": range(44_000), "bundled scenario": range(2_000)},
    "journals": {"journal": range(10_000)},
    "arrivals": {"report": range(44_000), "arrival": range(4_000), "aircraft": range(2_000)},
    "decks": {"small deck": range(5_500)},
    "more decks": {"small deck": range(5_500, 10_000), "bundled deck": range(250)},
}
"""What each test takes of each kind, by seeds; together some ten minutes of one processor."""
MEGABYTES = 300
"""What a share may add to the memory of its process."""


def cases(share: str) -> Iterator[Case]:
    for kind, seeds in SHARES[share].items():
        for seed in seeds:
            yield make(kind, seed)


def peak() -> float:
    """The most memory that this process has had, MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000


def test_the_shares_are_two_hundred_thousand_cases_of_every_kind() -> None:
    """And no case is in two of them."""
    taken = [(kind, seed) for share in SHARES.values() for kind, seeds in share.items() for seed in seeds]
    assert len(taken) == len(set(taken)) >= 200_000
    assert {kind for kind, _ in taken} == set(KINDS)


@pytest.mark.parametrize("kind", KINDS)
def test_a_seed_makes_the_same_case_again(kind: str) -> None:
    assert [make(kind, seed) for seed in range(20)] == [make(kind, seed) for seed in range(20)]
    assert len({make(kind, seed).raw for seed in range(20)}) > 10


@pytest.mark.soak
@pytest.mark.parametrize("share", SHARES)
def test_every_case_is_a_value_or_findings(share: str, tmp_path: Path, measured: Measured) -> None:
    before, begun = peak(), time.process_time()
    count = accepted = 0
    slowest, which = 0.0, ""
    wrong: dict[str, tuple[int, str, str]] = {}
    for case in cases(share):
        found = run(case, tmp_path)
        count += 1
        accepted += found.accepted
        if found.seconds > slowest:
            slowest, which = found.seconds, case.again
        for fault in found.faults:
            label = f"{case.kind}: {fault.split(':')[0]}"
            times, again, first = wrong.get(label, (0, case.again, fault))
            wrong[label] = (times + 1, again, first)
    spent, grown = time.process_time() - begun, peak() - before
    measured(f"{count:,} cases ({accepted:,} accepted) in {spent:.0f} s of processor time")
    measured(f"slowest {slowest * 1000:.0f} ms: {which}; {grown:.0f} MB more memory (limit {MEGABYTES})")
    said = (f"{n} times {label}, first: {again}\n    {text}" for label, (n, again, text) in wrong.items())
    assert wrong == {}, "\n".join(said)
    assert grown < MEGABYTES
