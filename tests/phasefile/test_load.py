"""A whole deck: everything that is wrong with it at once, and what the bundled one holds."""

import time
from collections import Counter
from pathlib import Path

import pytest

from flowdeck.cli.vet import count
from flowdeck.live.bundled import read_deck
from flowdeck.model.deck import Deck, ItemKind
from flowdeck.model.diagnostic import MOST, Diagnostic, Level, Rejected
from flowdeck.model.seats import Seat
from flowdeck.phasefile.loaddeck import load_deck
from tests.support.small import APPROACH, DECK, FILES, GROUND, LANDING, small_deck


def findings(**changed: str) -> list[str]:
    """What is said of the small deck with files exchanged; an empty text leaves the file out."""
    texts = {**FILES, **{f"{name}.yaml": text for name, text in changed.items()}}
    try:
        _, notes = load_deck("small", {name: text.encode() for name, text in texts.items() if text})
    except Rejected as rejected:
        notes = rejected.findings
    return [str(note) for note in notes]


def test_several_broken_files_report_together() -> None:
    """A mistake of form, one of syntax and one of names, in three files: nobody has to run it three times."""
    said = findings(
        approach=APPROACH.replace("title: Approach", "titel: Approach"),
        ground=GROUND.replace("title: On the ground", "title: On: the ground"),
        landing=LANDING.replace("reverse == 'full'", "reverse == 'ful'").replace("why: It stops the aeroplane.", ""),
    )
    assert said == [
        "small/approach.yaml:2:1 error missing: 'title' is missing in this file; add title: ...",
        "small/approach.yaml:3:1 error unknown-key: 'titel' is not known in this file; did you mean 'title'?",
        "small/ground.yaml:3:10 error yaml-syntax: not valid YAML here: a second ': ' in this line, or a line indented "
        "too far; put a text that holds ': ' in quotes",
        "small/landing.yaml:13:9 error missing: 'why' is missing in the item 'reverse'; add why: ...",
        "small/landing.yaml:16:27 error unknown-choice: 'ful' is not what reverse can be; did you mean 'full'?",
    ]


def test_a_missing_file_gives_no_findings_that_only_follow_from_it() -> None:
    """While a phase cannot be read, nobody is told that its items are unknown; once it is not there, they are."""
    broken = findings(approach="phase: [")
    assert [line.split(" ")[0] for line in broken] == ["small/approach.yaml:1:9"]
    gone = findings(approach="")
    assert [line.split(" ")[0] for line in gone] == ["small/deck.yaml:9:8", "small/go_around.yaml:6:10"]


def test_a_broken_deck_file_reports_with_the_form_of_the_others() -> None:
    said = findings(
        deck=DECK.replace("start: approach", "start: [approach]"), landing=LANDING.replace("by:", "byy:", 1)
    )
    assert said == [
        "small/deck.yaml:9:8 error wrong-value: start: expected text, found a list",
        "small/landing.yaml:8:5 error missing: 'by' is missing in the flow 'rollout'; add by: captain, first_officer, "
        "pilot_flying, pilot_monitoring, both or either",
        "small/landing.yaml:10:5 error unknown-key: 'byy' is not known in the flow 'rollout'; did you mean 'by'?",
    ]


def test_a_folder_without_a_deck_file() -> None:
    assert findings(deck="") == ["small/deck.yaml:1:1 error no-deck: this folder holds no deck.yaml, so it is no deck"]


def test_the_hash_tells_of_any_change() -> None:
    assert small_deck().hash == small_deck().hash
    assert small_deck().hash != small_deck(ground=GROUND + "# one more line\n").hash


@pytest.fixture(scope="module")
def bundled() -> Deck:
    return read_deck("twinjet")[0]


def test_the_bundled_deck_has_no_findings_and_loads_quickly() -> None:
    begun = time.process_time()
    _, notes = read_deck("twinjet")
    assert time.process_time() - begun < 1.0
    assert notes == ()


def test_what_the_bundled_deck_holds(bundled: Deck) -> None:
    counts = count(bundled)
    assert counts["items"] + counts["lines"] + counts["calls"] >= 130
    assert counts["standing_items"] >= 6
    assert counts["gates"] >= 4
    assert counts["holds"] >= 1
    assert counts["checklists"] >= 4
    assert counts["phases"] == 7
    assert {"ready", "secured"} <= set(bundled.ends)


def test_every_hard_edge_and_every_limit_gives_a_reason(bundled: Deck) -> None:
    edges = [edge for thing in (*bundled.items.values(), *bundled.checklists.values()) for edge in thing.after]
    hard = [edge for edge in edges if edge.hard]
    needs = [need for item in bundled.items.values() for need in item.needs]
    assert len(hard) >= 20 and len(needs) >= 5
    assert [edge.before for edge in hard if len(edge.reason) < 15] == []
    assert [need.reason for need in needs if len(need.reason) < 15] == []


def test_everything_says_why(bundled: Deck) -> None:
    """Worth reading by a learner: not a word or two. A line of a list may be shorter than what it verifies."""
    things = [*bundled.items.values(), *bundled.checklists.values(), *bundled.gates.values()]
    least = {ItemKind.LINE: 30}
    short = [t.id for t in things if len(t.why) < least.get(getattr(t, "kind", ItemKind.ACTION), 40)]
    assert short == []


@pytest.mark.parametrize("flying", list(Seat))
def test_work_is_shared_between_the_seats(bundled: Deck, flying: Seat) -> None:
    """About half of all for each, whoever flies, and in no phase over 70 % for one (our proposal)."""

    def share(phases: set[str]) -> float:
        owners = [s for i in bundled.items.values() if phases & set(i.phases) for s in i.by.seats(flying)]
        return owners.count(Seat.CAPTAIN) / len(owners)

    assert 0.45 <= share(set(bundled.phases)) <= 0.55
    shares = {phase: share({phase}) for phase in bundled.phases}
    assert all(0.3 <= value <= 0.7 for value in shares.values()), shares


def folder(tmp_path: Path, **changed: str) -> str:
    for name, text in {**FILES, **{f"{name}.yaml": text for name, text in changed.items()}}.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    return str(tmp_path)


def test_findings_read_in_order() -> None:
    with pytest.raises(Rejected) as caught:
        load_deck("x", {"deck.yaml": b"deck: x", "b.yaml": b"x: 1", "a.yaml": b"- 1\n- 2"})
    places = [finding.place for finding in caught.value.findings]
    assert places == sorted(places) and len({place.file for place in places}) == 3
    assert all(isinstance(f, Diagnostic) and f.level is Level.ERROR for f in caught.value.findings)


def test_of_many_findings_the_first_are_said_and_that_there_are_more() -> None:
    """Of things that are not there, and of conditions that cannot be read."""
    items = "".join(
        f"\n      - {{item: x-{i}, do: X, to: X, why: X, opens: no_signal_{i} > 1, "
        f"after: [{{item: gone-{i}, order: flow}}]}}"
        for i in range(300)
    )
    approach = APPROACH.replace("    items:\n", f"    items:{items}\n", 1)
    with pytest.raises(Rejected) as caught:
        small_deck(approach=approach)
    kinds = Counter(finding.kind for finding in caught.value.findings)
    assert kinds == {"unknown-item": MOST, "unknown-signal": MOST, "more": 2}
    said = sorted(finding.message for finding in caught.value.findings if finding.kind == "more")
    assert said == ["and more findings like these", "the conditions from here on were not read"]
