"""Cases of the soak: a kind and a seed are enough to make one again.

`python -m tests.hostile.cases KIND SEED` writes the bytes of a case to standard output.
"""

import json
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from random import Random
from typing import Any, NamedTuple

from flowdeck.arrival.brief import make_brief
from flowdeck.arrival.metar import NotAReport, decode
from flowdeck.conditions import Names, Table
from flowdeck.debrief.study import study
from flowdeck.live.keymap import read_keymap
from flowdeck.model.catalogue import by_name
from flowdeck.model.diagnostic import Diagnostic, Level, Place, Rejected
from flowdeck.phasefile.loadaircraft import load_aircraft
from flowdeck.phasefile.loadarrival import load_arrival
from flowdeck.phasefile.loaddeck import load_deck
from flowdeck.phasefile.loadscenario import load_scenario
from flowdeck.trial.film import Film
from flowdeck.vet import vet
from flowdeck.view.board import make_board
from flowdeck.view.brief.data import brief_data
from flowdeck.view.brief.markdown import brief_markdown
from flowdeck.view.brief.page import brief_page
from flowdeck.view.brief.text import brief_text
from flowdeck.view.debrief.data import debrief_data
from flowdeck.view.debrief.lesson import lesson_page
from flowdeck.view.debrief.page import debrief_page
from flowdeck.view.debrief.text import debrief_text
from flowdeck.view.words import safe
from flowdeck.wire.journal import read_journal
from tests.hostile import sources
from tests.hostile.generate import broken
from tests.hostile.holds import SECONDS, Verdict, judge
from tests.hostile.journals import broken_journal
from tests.hostile.reports import hostile_report
from tests.hostile.words import hostile_condition

KINDS = (
    "condition", "keys", "scenario", "journal", "small deck", "bundled scenario",
    "report", "arrival", "aircraft", "bundled deck",
)  # fmt: skip
_NAMES = Names(
    signals=by_name(),
    facts=frozenset({"wet"}),
    phases=frozenset({"approach", "landing"}),
    refs=frozenset({"brief", "gear-down"}),
    marks=frozenset({"touchdown"}),
)


class Case(NamedTuple):
    """*raw*: what is read in place of the file *name*."""

    kind: str
    seed: int
    name: str
    raw: bytes

    @property
    def again(self) -> str:
        """How to make it once more."""
        return f"python -m tests.hostile.cases '{self.kind}' {self.seed}  # {self.name}"


def make(kind: str, seed: int) -> Case:
    """The case of that kind and seed; the same for as long as the good files and the generators are."""
    random = Random(f"{kind} {seed}")
    match kind:
        case "condition":
            return Case(kind, seed, "condition.txt", hostile_condition(random).encode("utf-8", "surrogatepass"))
        case "keys":
            return Case(kind, seed, sources.KEYS_FILE, broken(random, sources.KEYMAP))
        case "scenario":
            return Case(kind, seed, sources.SCENARIO_FILE, broken(random, sources.FULL_SCENARIO))
        case "journal":
            return Case(kind, seed, sources.JOURNAL_FILE, broken_journal(random))
        case "small deck":
            name = random.choice(tuple(sources.FULL_FILES))
            return Case(kind, seed, name, broken(random, sources.FULL_FILES[name]))
        case "bundled scenario":
            name = random.choice(tuple(sources.bundled_scenarios()))
            return Case(kind, seed, name, broken(random, sources.bundled_scenarios()[name].decode()))
        case "report":
            return Case(kind, seed, "report.txt", hostile_report(random).encode("utf-8", "surrogatepass"))
        case "arrival":
            name = random.choice(tuple(sources.bundled_arrivals()))
            return Case(kind, seed, name, broken(random, sources.bundled_arrivals()[name].decode()))
        case "aircraft":
            return Case(kind, seed, sources.AIRCRAFT_FILE, broken(random, sources.aircraft_raw().decode()))
        case "bundled deck":
            name = random.choice(tuple(sources.bundled_deck_files()))
            return Case(kind, seed, name, broken(random, sources.bundled_deck_files()[name].decode()))
        case _:
            raise ValueError(f"no kind of case: {kind}")


def run(case: Case, folder: Path) -> Verdict:
    """Put the case through its loader. *folder*: where a file may be written."""
    match case.kind:
        case "condition":
            return judge(lambda: _condition(case.raw.decode("utf-8", "surrogatepass")), {case.name: case.raw})
        case "keys":
            path = folder / case.name
            path.write_bytes(case.raw)
            return judge(lambda: (read_keymap(str(path), sources.ACTIONS), ()), {str(path): case.raw})
        case "scenario":
            deck = sources.full_deck()
            return judge(lambda: load_scenario(case.name, case.raw, deck), {case.name: case.raw})
        case "bundled scenario":
            deck = sources.bundled_deck()
            return judge(lambda: load_scenario(case.name, case.raw, deck), {case.name: case.raw})
        case "journal":
            return judge(lambda: _journal(case.name, case.raw), {case.name: case.raw})
        case "report":
            return judge(lambda: _report(case.raw.decode("utf-8", "surrogatepass")), {case.name: case.raw})
        case "arrival":
            return judge(lambda: _arrival(case.name, case.raw, sources.aircraft_raw()), {case.name: case.raw})
        case "aircraft":
            arrival = "tarn-holm.yaml"
            files = {case.name: case.raw, arrival: sources.bundled_arrivals()[arrival]}
            return judge(lambda: _arrival(arrival, files[arrival], case.raw), files)
        case "small deck":
            return judge_deck("small", {**sources.full_files(), case.name: case.raw}, load=_vetted)
        case _:
            return judge_deck("twinjet", {**sources.bundled_deck_files(), case.name: case.raw})


def judge_deck(
    folder: str, files: Mapping[str, bytes], *, seconds: float = SECONDS, load: Callable[..., Any] = load_deck
) -> Verdict:
    shown = {f"{folder}/{name}": raw for name, raw in {"deck.yaml": b"", **files}.items()}
    return judge(lambda: load(folder, files), shown, seconds=seconds)


def _vetted(folder: str, files: Mapping[str, bytes]) -> tuple[Any, tuple[Diagnostic, ...]]:
    """A deck that is accepted can be vetted by every rule, and its cards laid out."""
    verdict = vet(folder, files)
    return (verdict.loaded.deck, tuple(map(str, verdict.findings))), verdict.loaded.notes


def _condition(text: str) -> tuple[Any, tuple[Diagnostic, ...]]:
    table = Table(_NAMES)
    table.add(text, Place("condition.txt"))
    if any(finding.level is Level.ERROR for finding in table.findings):
        raise Rejected(tuple(table.findings))
    return table.conditions, tuple(table.findings)


def _report(text: str) -> tuple[Any, tuple[Diagnostic, ...]]:
    try:
        return decode(text), ()
    except NotAReport as error:
        raise Rejected((Diagnostic(place=Place("report.txt"), kind="not-a-report", message=str(error)),)) from error


def _arrival(file: str, raw: bytes, aircraft_raw: bytes) -> tuple[Any, tuple[Diagnostic, ...]]:
    """An arrival that is accepted can be briefed, and the brief written in every form."""
    arrival = load_arrival(file, raw, load_aircraft(sources.AIRCRAFT_FILE, aircraft_raw), aircraft_raw)
    brief = make_brief(arrival)
    json.dumps(brief_data(brief), allow_nan=False)
    shown = "".join((brief_text(brief), brief_markdown(brief), brief_page(brief)))
    return (arrival, shown.replace("\n", " ")), ()


def _journal(file: str, raw: bytes) -> tuple[Any, tuple[Diagnostic, ...]]:
    """A journal that is accepted can be debriefed in every form, and looked at again at any moment."""
    opened = read_journal(file, raw)
    if not opened.events:
        return (), opened.notes
    found = study(opened.deck, opened.scenario, opened.events)
    json.dumps(debrief_data(found, ""), allow_nan=False)
    shown = "".join((debrief_text(found, "", timeline=True), debrief_page(found, ""), lesson_page(found, "")))
    film = Film(opened.deck, opened.scenario, opened.events)
    for at in (film.length_ms, film.length_ms // 2, 0):
        flight = film.flight_at(at)
        make_board(flight.deck, flight.session, flight.readings, flight.now)
    marks = tuple(mark.words for mark in film.bookmarks())
    return (shown.replace("\n", " "), tuple(map(safe, marks))), opened.notes


if __name__ == "__main__":
    sys.stdout.buffer.write(make(sys.argv[1], int(sys.argv[2])).raw)
