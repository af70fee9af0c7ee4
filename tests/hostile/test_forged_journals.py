"""Journals whose checksums are right and whose contents are not: refused with findings, or safe to show and fly on."""

import json
from contextlib import suppress
from pathlib import Path
from random import Random
from typing import Any

import pytest
from msgspec.structs import replace

from flowdeck.cli.main import main
from flowdeck.model.condition import AllOf, Condition, Const, Expr, Held, Not
from flowdeck.model.diagnostic import Diagnostic, Place, Rejected, Unsettled
from flowdeck.trial.flight import advance
from flowdeck.trial.restore import restore
from flowdeck.view.words import safe
from flowdeck.wire.journal import read_journal
from tests.hostile import sources
from tests.hostile.holds import Verdict, judge, unseen
from tests.hostile.journals import changed, changed_header, forged, good_bodies, packed, unpacked
from tests.hostile.words import ACTING

FILE = "forged.journal"


def read(raw: bytes) -> Verdict:
    def load() -> tuple[Any, tuple[Diagnostic, ...]]:
        return (), read_journal(FILE, raw).notes

    return judge(load, {FILE: raw})


def restored(raw: bytes, *, on_s: int = 0) -> Verdict:
    """The journal read, its flight taken up as `fly --resume` does it, and flown *on_s* seconds more."""

    def load() -> tuple[Any, tuple[Diagnostic, ...]]:
        opened = read_journal(FILE, raw)
        try:
            flight = restore(opened.deck, opened.scenario, opened.events)
        except ValueError as error:  # what the command makes a finding of
            message = f"cannot be gone on with: {safe(str(error))}"
            raise Rejected((Diagnostic(place=Place(FILE, 1), kind="journal", message=message),)) from None
        if on_s and not flight.session.ended:
            with suppress(Unsettled):  # a deck that cannot be flown, and says so
                advance(flight, flight.now + on_s * 1000)
        return (), opened.notes

    return judge(load, {FILE: raw})


STAGES = {"restored": 0, "flown on": 2}
"""Seconds to fly on. What is wrong must show before the screen opens; what does not may not end it with a traceback."""


def test_the_good_journal_is_flown_on() -> None:
    assert restored(forged(*good_bodies()), on_s=2)[:3] == (True, (), ())


TEXTS: list[dict[str, Any]] = [
    {"type": "Heard", "at": 9000, "words": "?"},
    {"type": "Interrupted", "at": 9000, "words": "?", "until": 9500},
    {"type": "Refused", "at": 9000, "what": "?", "because": "?"},
    {"type": "PaceSet", "at": 9000, "pace": 2.0, "because": "?"},
    {"type": "Reset", "at": 9000, "items": [], "lists": [], "gates": [], "because": "?"},
    {"type": "?", "at": 9000},
    {"type": "AidSet", "at": 9000, "aid": "?"},
    {"type": "Heard", "at": 9000, "words": "x", "?": 1},
    {"type": "Heard", "at": "?", "words": "x"},
    {"type": "FlightEnded", "at": 9000, "end": "?"},
    {"type": "Trace", "at": 9000, "values": {"altitude_ft": "?"}},
    {"type": "Checkpoint", "at": 9000, "plane": "?", "truths": [], "truth_at": []},
]


def with_text(body: dict[str, Any], text: str) -> dict[str, Any]:
    return dict(json.loads(json.dumps(body).replace('"?"', json.dumps(text))))


def with_header(field: str, text: str) -> bytes:
    return json.dumps({**json.loads(sources.header()), field: text}).encode() + b"\n"


def with_packed(part: str, old: str, new: str) -> bytes:
    """The header with one text of its packed deck or scenario exchanged."""
    fields = json.loads(sources.header())
    inner = json.dumps(unpacked(fields[part]))
    assert json.dumps(old) in inner
    inner = inner.replace(json.dumps(old), json.dumps(new), 1)
    return json.dumps({**fields, part: packed(json.loads(inner))}).encode() + b"\n"


def resumed(raw: bytes, folder: Path, capfdbinary: pytest.CaptureFixture[bytes]) -> tuple[int, str]:
    """Exit status of `fly --resume` without a terminal, and all that it printed; none of it may act on a terminal."""
    path = folder / FILE
    path.write_bytes(raw)
    status = main(["fly", "--resume", str(path)])
    captured = capfdbinary.readouterr()
    printed = (captured.out + captured.err).decode()
    for line in printed.split("\n"):
        assert line.isprintable(), ascii(line)
    return status, printed


@pytest.mark.parametrize("body", TEXTS, ids=lambda body: f"{body['type']}-{list(body)[-1]}")
def test_an_event_with_characters_that_act(
    body: dict[str, Any], tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    for characters in ACTING:
        raw = forged(*good_bodies(), with_text(body, characters), {"type": "Paused", "at": 9600})
        assert read(raw).faults == ()
    raw = forged(*good_bodies(), with_text(body, "\x1b[2J\x9b31m\u202e"), {"type": "Paused", "at": 9600})
    status, printed = resumed(raw, tmp_path, capfdbinary)
    assert status == 2 and printed


HEADER_FIELDS = ("begun", "version", "disclaimer", "deck_id", "deck_title", "deck_hash", "deck_status", "scenario_id")


@pytest.mark.parametrize("field", [*HEADER_FIELDS, "deck", "scenario", "type", "format", "new"])
def test_a_header_with_characters_that_act(
    field: str, tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    for characters in ACTING:
        assert read(with_header(field, characters) + b"".join(sources.journal_lines()[1:])).faults == ()
    raw = with_header(field, "\x1b[2J\x9b31m\u202e") + b"".join(sources.journal_lines()[1:])
    status, printed = resumed(raw, tmp_path, capfdbinary)
    assert status == 2 and printed


def test_a_header_that_names_a_deck_elsewhere(tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    """The deck that a journal names is looked for; its name may be a folder of whoever made the journal."""
    folder = tmp_path / "deck\x1b[2J"
    folder.mkdir()
    for name, raw in sources.full_files().items():
        (folder / name).write_bytes(raw + b"# changed\n")
    raw = with_header("deck_id", str(folder)) + b"".join(sources.journal_lines()[1:])
    status, printed = resumed(raw, tmp_path, capfdbinary)
    assert status == 2 and printed


@pytest.mark.parametrize(
    ("part", "old"),
    [
        *(("deck", text) for text in ("Small deck", "Flap", "brief", "Landing checklist", "approach")),
        *(("scenario", text) for text in ("Small scenario", "Nowhere", "parked")),
    ],
)
def test_a_packed_text_with_characters_that_act(
    part: str, old: str, tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    raw = with_packed(part, old, f"{old}\x1b[2J\x9b31m\u202e") + b"".join(sources.journal_lines()[1:])
    assert read(raw).faults == ()
    status, printed = resumed(raw, tmp_path, capfdbinary)
    assert status == 2 and printed


def test_what_a_journal_says_is_made_safe_before_it_is_shown() -> None:
    """A journal is not refused for its words, so that what every view shows them through leaves none that acts."""
    assert [ascii(characters) for characters in ACTING if unseen(safe(f"a{characters}b"))] == []


def with_deck(**changes: Any) -> bytes:
    return sources.header(deck=replace(sources.full_deck(), **changes))


def all_rows(tree: Expr) -> tuple[Condition, ...]:
    return tuple(Condition(text="x", tree=tree) for _ in sources.full_deck().conditions)


def nested(depth: int) -> Expr:
    tree: Expr = Const(True)
    for _ in range(depth):
        tree = Not(tree)
    return tree


FORGED: dict[str, list[dict[str, Any]]] = {
    "an item that is not there": [{"type": "ItemDone", "at": 9000, "item": "nothing", "seat": "captain"}],
    "an item opened that is not there": [{"type": "ItemOpened", "at": 9000, "item": "nothing"}],
    "a tick of nothing taken back": [
        {"type": "Undone", "at": 9000, "seat": "captain", "what": "tick", "ref": "nothing"},
    ],
    "a list that is not there": [{"type": "ListCalled", "at": 9000, "checklist": "nothing", "seat": "captain"}],
    "a phase that is not there": [{"type": "PhaseEntered", "at": 9000, "phase": "nothing", "left": "approach"}],
    "a start in a phase that is not there": [{**good_bodies()[0], "phase": "nothing"}],
    "a fact that is not there": [{"type": "FactTold", "at": 9000, "fact": "nothing", "value": True}],
    "a mark that is not there": [{"type": "MarkPassed", "at": 9000, "mark": "nothing"}],
    "a condition beyond the table": [{"type": "TruthsChanged", "at": 9000, "true": [99_999]}],
    "a condition before the table": [{"type": "TruthsChanged", "at": 9000, "true": [-99_999]}],
    "a table without end": [{**good_bodies()[0], "truths": 10**12}],
    "a table of less than nothing": [{**good_bodies()[0], "truths": -1}],
    "a time months ahead": [{"type": "Heard", "at": 10**10, "words": "x"}],
    "a time beyond a machine word": [{"type": "Heard", "at": 10**18, "words": "x"}],
    "a time beyond a float": [{"type": "Heard", "at": 10**400, "words": "x"}],
    "a time before the start": [{"type": "Heard", "at": -(10**6), "words": "x"}],
    "a time that runs back": [{"type": "Heard", "at": 1, "words": "x"}],
    "a pace of nothing": [{"type": "PaceSet", "at": 9000, "pace": 0.0}],
    "a pace without end": [{"type": "PaceSet", "at": 9000, "pace": 1e308}],
    "a second start": [dict(good_bodies()[0])],
    "a checkpoint of nothing": [{"type": "Checkpoint", "at": 9000, "plane": "", "truths": [], "truth_at": []}],
    "a checkpoint of noise": [{"type": "Checkpoint", "at": 9000, "plane": "x" * 500, "truths": [], "truth_at": []}],
    "a checkpoint of a list": [{"type": "Checkpoint", "at": 9000, "plane": packed([]), "truths": [], "truth_at": []}],
    "a checkpoint of an empty table": [
        {"type": "Checkpoint", "at": 9000, "plane": packed({}), "truths": [], "truth_at": []},
    ],
    "a reading of the wrong kind": [{"type": "Trace", "at": 9000, "values": {"altitude_ft": "x", "gear": 1.0}}],
    "a reading of nothing": [{"type": "Trace", "at": 9000, "values": {"nothing": True}}],
    "a happening that is not there": [{"type": "ScriptMoved", "at": 9000, "happening": "nothing", "played": True}],
    "a deviation that is not there": [{"type": "DeviationTrapped", "at": 9000, "number": 99, "by": "tool"}],
    "a gate that is not there": [{"type": "GatePassed", "at": 9000, "gate": "nothing"}],
    "a line that is not there": [{"type": "LineRead", "at": 9000, "line": "nothing", "seat": "captain"}],
}


@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("name", FORGED)
def test_events_that_cannot_have_been(name: str, stage: str) -> None:
    bodies = FORGED[name] if name.startswith(("a start", "a table")) else [*good_bodies(), *FORGED[name]]
    assert restored(forged(*bodies), on_s=STAGES[stage]).faults == ()


DECKS: dict[str, dict[str, Any]] = {
    "no items": {"items": {}},
    "no phases": {"phases": {}},
    "no conditions": {"conditions": ()},
    "fewer conditions": {"conditions": all_rows(Const(True))[:3]},
    "conditions nested deep": {"conditions": all_rows(nested(400))},
    "conditions of words": {"conditions": all_rows(Const("x"))},
    "conditions of nothing": {"conditions": all_rows(AllOf(()))},
    "conditions that look ahead": {"conditions": all_rows(Held(9999, 1.0))},
    "conditions that look behind": {"conditions": all_rows(Held(-1, 1.0))},
    "no signals": {"signals": ()},
    "a start that is not there": {"start": "nothing"},
    "a go-around that is not there": {"go_around": "nothing"},
    "a condition that is not there": {"committed": 9999},
}


@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("name", DECKS)
def test_decks_that_no_loader_would_have_made(name: str, stage: str) -> None:
    raw = with_deck(**DECKS[name]) + b"".join(sources.journal_lines()[1:])
    assert restored(raw, on_s=STAGES[stage]).faults == ()


SCENARIOS: dict[str, dict[str, Any]] = {
    "conditions of words": {"conditions": (Condition(text="x", tree=Const("x")),)},
    "no conditions": {"conditions": ()},
    "a limit without end": {"limit_s": 1e308},
    "surroundings of the wrong kind": {"surroundings": {"headwind_kt": "x", "cloud_base_ft": True}},
    "signals of the wrong kind": {"signals": {"flap_deg": "x", "gear": 3.0}},
    "a fact that is not there": {"facts": {"nothing": True}},
}


@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("name", SCENARIOS)
def test_scenarios_that_no_loader_would_have_made(name: str, stage: str) -> None:
    scenario = replace(sources.full_scenario(), **SCENARIOS[name])
    raw = sources.header(scenario=scenario) + b"".join(sources.journal_lines()[1:])
    assert restored(raw, on_s=STAGES[stage]).faults == ()


@pytest.mark.parametrize("stage", STAGES)
def test_forged_at_random(stage: str) -> None:
    """Two hundred journals with something odd in one event or within the header; a seed makes each again."""
    wrong: dict[str, tuple[int, object]] = {}
    for seed in range(200):
        random = Random(f"forged {seed}")
        bodies: list[Any] = list(good_bodies())
        at = random.randrange(len(bodies))
        if seed % 4:
            bodies[at] = changed(random, bodies[at])
            raw = forged(*bodies)
        else:
            raw = forged(*bodies, head=changed_header(random, sources.header()))
        for fault in restored(raw, on_s=STAGES[stage]).faults:
            wrong.setdefault(fault, (seed, bodies[at] if seed % 4 else "header"))
    assert wrong == {}
