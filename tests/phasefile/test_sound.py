"""What is well-formed and unsound, and what no deck may lack: by changes to the small deck."""

import pytest

from flowdeck.model.diagnostic import Level, Rejected
from flowdeck.phasefile.loaddeck import load_deck
from tests.support.small import FILES


def findings(file: str, old: str, new: str) -> list[tuple[str, str]]:
    """(kind, message) of the small deck with one text of a file replaced; errors and warnings alike."""
    assert old in FILES[file]
    texts = {**FILES, file: FILES[file].replace(old, new, 1)}
    try:
        _, notes = load_deck("small", {name: text.encode() for name, text in texts.items()})
    except Rejected as rejected:
        return [(f.kind, f.message) for f in rejected.findings if f.level is Level.ERROR]
    return [(f.kind, f.message) for f in notes]


def kinds(file: str, old: str, new: str) -> list[str]:
    return [kind for kind, _ in findings(file, old, new)]


def test_the_small_deck_is_sound() -> None:
    assert kinds("deck.yaml", "draft", "draft") == []


def test_a_list_without_a_mode_is_refused() -> None:
    [(kind, message)] = findings("approach.yaml", "    mode: verify\n", "")
    assert kind == "missing" and "mode" in message


def test_a_hard_edge_without_a_reason_is_refused() -> None:
    found = kinds("approach.yaml", ", reason: The warning for gear stays silent otherwise.", "")
    assert found == ["bad-hard-edge"]


def test_critical_late() -> None:
    """A critical line in the second half that nothing forces there; behind a hold it is forced."""
    unforced = "{line: gl-lever, challenge: Lever, respond: CUTOFF, by: first_officer, critical: true}"
    line = "{line: gl-lever, challenge: Lever, respond: CUTOFF, by: first_officer, verifies: cut}"
    assert kinds("ground.yaml", line, unforced) == ["critical-late"]
    flap = 'by: pilot_flying, verifies: flap-land, seen: "flap_deg == 31"'
    assert kinds("approach.yaml", flap, flap + ", critical: true") == []


SECOND_LIST = """
  - checklist: second-list
    title: Second checklist
    mode: verify
    called_by: pilot_flying
    read_by: pilot_monitoring
    opens: "distance_nm <= 9"
    lines:
      - {line: sl-gear, challenge: Gear, respond: DOWN, by: pilot_flying, verifies: gear-down%s}
    completion: Second checklist complete
    why: A second look.
calls:
"""


def test_duplicate_control() -> None:
    """The same item verified by two lists of a phase; a second look that is meant says so."""
    assert kinds("approach.yaml", "\ncalls:\n", SECOND_LIST % "") == ["duplicate-control"]
    assert kinds("approach.yaml", "\ncalls:\n", SECOND_LIST % ", reverify: true") == []


def test_atc_only_trigger() -> None:
    """A list that nothing opens but a controller's word; with a distance beside it, it is sound."""
    assert kinds("approach.yaml", 'opens: "distance_nm <= 8"', 'opens: "cleared"') == ["atc-only-trigger"]
    assert kinds("approach.yaml", 'opens: "distance_nm <= 8"', 'opens: "cleared or distance_nm <= 8"') == []


@pytest.mark.parametrize(
    ("due", "expected"),
    [("distance_nm <= 6", []), ("distance_nm <= 4", ["due-after-late"]), ("distance_nm <= 3", ["due-after-late"])],
)
def test_due_after_late(due: str, expected: list[str]) -> None:
    """The prompt must leave time to be put right: due at the late limit or after it is found."""
    assert kinds("approach.yaml", 'due: "distance_nm <= 6"', f'due: "{due}"') == expected


def test_a_window_never_opens_only_on_what_it_verifies() -> None:
    found = kinds("ground.yaml", "opens: \"since('ground') > 5\"", "opens: \"done('brake')\"")
    assert found == ["window-needs-own-item"]
