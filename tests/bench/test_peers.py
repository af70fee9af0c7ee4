"""The bench compares like with like: every peer tells the same changes, and one that does not is found out."""

from collections.abc import Sequence

import pytest

from tests.bench.peers import FLOWDECK, PEERS, Peer, Row, UnequalTrace, check, measure, table
from tests.bench.workload import SAMPLES, SIGNALS, TEXTS, Run, Sample, Trace, bare, followed, samples, stretch, thinned

LIBRARY = {
    "zen-engine": "zen",
    "py-trees": "py_trees",
    "python-statemachine": "statemachine",
    "simpleeval": "simpleeval",
    "sismic": "sismic",
    "transitions": "transitions",
}


@pytest.mark.parametrize("peer", PEERS, ids=lambda peer: f"{peer.name}, {peer.way}")
def test_a_peer_tells_the_same_changes(peer: Peer) -> None:
    if peer.package:
        pytest.importorskip(LIBRARY[peer.package], reason=f"the peer {peer.package} is not installed")
    flight = thinned(300)
    check(peer.name, peer.make()(flight), FLOWDECK.make()(flight))


def test_the_workload_is_what_it_says() -> None:
    flight = samples()
    assert len(flight) == SAMPLES
    assert len(TEXTS) == len(set(TEXTS)) == 40
    assert all(tuple(sample) == SIGNALS for sample in flight)
    assert all(None not in sample.values() and sample["distance_nm"] != 0 for sample in flight)
    trace = followed(bare(), flight)
    assert {number for _, number, _ in trace} == set(range(40)), "some condition never changes"
    changed = {at for at, _, _ in trace}
    assert 0.01 < len(changed) / SAMPLES < 0.05, "most samples change nothing, but not nearly all"
    assert {number for _, number, _ in FLOWDECK.make()(thinned(300))} == set(range(40))


def test_the_stretch_for_slow_peers_is_no_quieter_than_the_flight() -> None:
    in_flight = len(followed(bare(), samples())) / SAMPLES
    in_stretch = len(followed(bare(), stretch())) / len(stretch())
    assert 0.8 < in_stretch / in_flight < 1.6


def _dropped(trace: Trace) -> Trace:
    return trace[:100] + trace[101:]


def _twice(trace: Trace) -> Trace:
    return [*trace[:100], trace[99], *trace[100:]]


def _late(trace: Trace) -> Trace:
    at, number, state = trace[100]
    return [*trace[:100], (at + 1, number, state), *trace[101:]]


def _turned(trace: Trace) -> Trace:
    at, number, state = trace[100]
    return [*trace[:100], (at, number, not state), *trace[101:]]


@pytest.mark.parametrize("wrong", [_dropped, _twice, _late, _turned, lambda trace: []])
def test_a_trace_with_one_wrong_change_is_noticed(wrong) -> None:
    trace = FLOWDECK.make()(thinned(300))
    check("right", trace, trace)
    check("right, in another order within a sample", sorted(trace, key=lambda edge: (edge[0], -edge[1])), trace)
    with pytest.raises(UnequalTrace, match="sample"):
        check("wrong", wrong(trace), trace)


def test_nothing_to_compare_is_not_taken_for_equal() -> None:
    with pytest.raises(ValueError, match="nothing changes"):
        check("idle", [], [])


AT_OR_BELOW = TEXTS.index("abs(ias_kt - selected_speed_kt) <= 5")


def _forgetful() -> Run:
    """A peer that reads one comparison wrongly: below, instead of at or below."""
    right = bare()

    def look(sample: Sample) -> Sequence[bool]:
        answers = right(sample)
        answers[AT_OR_BELOW] = abs(sample["ias_kt"] - sample["selected_speed_kt"]) < 5
        return answers

    return lambda flight: followed(look, flight)


def test_a_wrong_peer_ends_the_run() -> None:
    with pytest.raises(UnequalTrace, match=rf"forgetful.*condition {AT_OR_BELOW} \(abs"):
        measure([Peer("forgetful", "< for <=", _forgetful)], rounds=1)


def test_a_peer_that_is_not_there_is_said() -> None:
    absent = Peer("absent", "any", _forgetful, package="flowdeck-has-no-such-peer")
    rows = measure([absent], rounds=1)
    assert rows[1] == Row("absent", "any", "", installed=False)
    assert "not installed" in table(rows).splitlines()[-1]
