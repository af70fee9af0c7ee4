"""Lapse files: what is bundled, and what is told of a wrong one."""

import pytest

from flowdeck.live.bundled import read_lapses
from flowdeck.model.diagnostic import Rejected
from flowdeck.model.lapse import LapseKind
from flowdeck.phasefile.lapseshapes import load_lapses

GOOD = "lapses: mine\ntitle: Mine\npercent: {item_omitted: 5}\n"


@pytest.mark.parametrize("name", ["light", "line", "heavy"])
def test_the_bundled_ones_name_every_kind(name: str) -> None:
    assert set(read_lapses(name).percent) == set(LapseKind) and read_lapses(name).about


def test_they_stand_in_their_order() -> None:
    """Light is half of line in every kind, and heavy more than line in every kind."""
    light, line, heavy = (read_lapses(name).percent for name in ("light", "line", "heavy"))
    assert all(light[kind] == pytest.approx(line[kind] / 2) and heavy[kind] > line[kind] for kind in LapseKind)


def test_line_is_no_more_than_observed_crews() -> None:
    """Well under 1 % per opportunity (NASA/TM-2010-216396, second-hand): items and lines; calls stand higher there."""
    percent = read_lapses("line").percent
    assert all(rate < 1 for kind, rate in percent.items() if kind.startswith("item"))
    assert max(percent, key=lambda kind: percent[kind]).startswith("call")


@pytest.mark.parametrize(
    ("text", "place", "kind"),
    [
        (GOOD + "percnt: 4\n", "mine.yaml:4:1", "unknown-key"),
        (GOOD.replace("item_omitted", "item_forgotten"), "mine.yaml:3:11", "wrong-value"),
        (GOOD.replace("5", "500"), "mine.yaml:3:25", "out-of-range"),
        (GOOD + "late_s: {from: 60, to: 10}\n", "mine.yaml:4:9", "order"),
        (GOOD + "call_late_s: {from: 60, to: 10}\n", "mine.yaml:4:14", "order"),
        ("lapses: mine\n", "mine.yaml:1:1", "missing"),
    ],
)
def test_a_wrong_one_is_told_at_its_place(text: str, place: str, kind: str) -> None:
    with pytest.raises(Rejected) as caught:
        load_lapses("mine.yaml", text.encode())
    told = [(str(finding).split(" ")[0].rstrip(":"), finding.kind) for finding in caught.value.findings]
    assert (place, kind) in told, [str(f) for f in caught.value.findings]


def test_a_name_that_there_is_not() -> None:
    with pytest.raises(Rejected, match="bundled lapses: heavy, light, line"):
        read_lapses("medium")
