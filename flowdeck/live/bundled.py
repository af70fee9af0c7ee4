"""Where decks and scenarios lie: given paths first, then what comes with the program."""

from collections.abc import Callable
from pathlib import Path

from flowdeck.arrival.plan import Arrival
from flowdeck.live.collecting import no_collecting
from flowdeck.live.files import read_bounded
from flowdeck.model.deck import Deck
from flowdeck.model.diagnostic import Diagnostic, Rejected, refused
from flowdeck.model.lapse import NO_LAPSES, Lapses
from flowdeck.model.scenario import Scenario
from flowdeck.phasefile.lapseshapes import load_lapses
from flowdeck.phasefile.loadaircraft import load_aircraft
from flowdeck.phasefile.loadarrival import aircraft_of, load_arrival
from flowdeck.phasefile.loaddeck import load_deck
from flowdeck.phasefile.loadscenario import arrivals_of, deck_of, load_scenario
from flowdeck.phasefile.read import LARGEST

LARGEST_DECK = 20_000_000
"""Bytes of all its files; of one file, `read.LARGEST`."""
MOST_FILES = 200


def _root(name: str) -> Path:
    """A bundled folder: inside an installed wheel, or beside the package in a source tree."""
    package = Path(__file__).resolve().parent.parent
    installed = package / "bundled" / name
    return installed if installed.is_dir() else package.parent / name


def scenario_names() -> list[str]:
    """The bundled scenarios by name."""
    return sorted(path.stem for path in _root("scenarios").glob("*.yaml"))


def find_deck(name: str) -> Path:
    """A deck's folder: its path, that of a file in it, or the name of a bundled deck. Raises `Rejected`."""
    for candidate in (Path(name), _root("phases") / name):
        if _is(candidate, Path.is_dir):
            return candidate
    if name.endswith((".yaml", ".yml")) and _is(Path(name), Path.is_file):
        return Path(name).parent
    bundled = ", ".join(sorted(p.name for p in _root("phases").iterdir() if p.is_dir()))
    raise refused(name, "no-deck", f"no folder of this name; bundled decks: {bundled}")


def find_scenario(name: str) -> Path:
    """A scenario's file: a path, or the name of a bundled one. Raises `Rejected`."""
    return _find(name, _root("scenarios"), "scenario", "scenarios")


def _is(path: Path, kind: Callable[[Path], bool]) -> bool:
    """Whether there is such a thing; a name that cannot be one is none."""
    try:
        return kind(path)
    except OSError:
        return False


def read_deck(name: str) -> tuple[Deck, tuple[Diagnostic, ...]]:
    """Load a deck from disk with its warnings. Raises `Rejected`."""
    folder, files = deck_files(name)
    with no_collecting():
        return load_deck(folder, files)


def deck_files(name: str) -> tuple[str, dict[str, bytes]]:
    """The folder of a deck as a person would type it, and its files as they are on disk. Raises `Rejected`."""
    folder = find_deck(name)
    try:
        paths = sorted(path for path in folder.iterdir() if path.suffix in (".yaml", ".yml"))
    except OSError as error:
        raise refused(name, "unreadable", _why(error)) from None
    if len(paths) > MOST_FILES:
        raise refused(name, "too-many", f"{len(paths)} files; a deck has at most {MOST_FILES}")
    files: dict[str, bytes] = {}
    for path in paths:
        files[path.name] = _read(path)
        if sum(map(len, files.values())) > LARGEST_DECK:
            raise refused(name, "too-large", f"all its files are more than {LARGEST_DECK:,} bytes")
    return _shown(folder), files


def scenario_of(deck: Deck, folder: Path) -> str:
    """The scenario that a deck is tried with: the first in its own folder `scenarios`, else the first bundled one.

    Raises `Rejected` when there is none.
    """
    own = sorted((folder / "scenarios").glob("*.yaml"))
    for path in (*own, *sorted(_root("scenarios").glob("*.yaml"))):
        try:
            if deck_of(_shown(path), _read(path)) == deck.id:
                return str(path)
        except Rejected:
            if path in own:
                raise
    message = f"no scenario for the deck '{deck.id}'; write one into {_shown(folder / 'scenarios')}, or name one"
    raise refused(_shown(folder), "no-scenario", message)


def scenario_text(name: str) -> bytes:
    """What is in a scenario's file. Raises `Rejected`."""
    return _read(find_scenario(name))


def read_scenario(
    name: str, deck: Deck | None = None, script: str | None = None
) -> tuple[Deck, Scenario, tuple[Diagnostic, ...]]:
    """Load a scenario and, unless one is given, the deck that it names. Raises `Rejected`.

    *script*: an instructor's, a path or the name of a bundled one.
    """
    path = find_scenario(name)
    shown, raw = _shown(path), _read(path)
    notes: tuple[Diagnostic, ...] = ()
    if deck is None:
        deck, notes = read_deck(_deck_around(path, deck_of(shown, raw)))
    arrivals = {name: read_arrival(_beside(path, name)) for name in arrivals_of(shown, raw)}
    extra = None if script is None else _named_file(script, "script", "scripts")
    with no_collecting():
        scenario, more = load_scenario(shown, raw, deck, arrivals, extra)
    return deck, scenario, (*notes, *more)


def _deck_around(scenario: Path, name: str) -> str:
    """The deck in whose folder `scenarios` a scenario lies; else the name as it is."""
    folder = scenario.resolve().parent.parent
    return str(folder) if scenario.resolve().parent.name == "scenarios" and folder.name == name else name


def arrival_names() -> list[str]:
    """The bundled arrivals by name."""
    return sorted(path.stem for path in (_root("scenarios") / "arrivals").glob("*.yaml"))


def find_arrival(name: str) -> Path:
    """An arrival's file: a path, or the name of a bundled one. Raises `Rejected`."""
    return _find(name, _root("scenarios") / "arrivals", "arrival", "arrivals")


def read_arrival(name: str) -> Arrival:
    """Load an arrival and its aircraft from disk. Raises `Rejected`."""
    path = find_arrival(name)
    raw = _read(path)
    aircraft = _find_aircraft(path, aircraft_of(_shown(path), raw))
    tables = _read(aircraft)
    return load_arrival(_shown(path), raw, load_aircraft(_shown(aircraft), tables), tables)


def read_lapses(name: str) -> Lapses:
    """Load lapses: a path, or the name of bundled ones. Raises `Rejected`."""
    return NO_LAPSES if name == NO_LAPSES.id else load_lapses(*_named_file(name, "lapses", "lapses"))


def _named_file(name: str, what: str, many: str) -> tuple[str, bytes]:
    """A file of a folder of its own, as `_find` finds it, and what is in it. Raises `Rejected`."""
    path = _find(name, _root("scenarios") / many, what, many)
    return _shown(path), _read(path)


def _find(name: str, bundled: Path, what: str, many: str) -> Path:
    """A file by its path or, of the *bundled* ones, by its name. Raises `Rejected`."""
    for candidate in (Path(name), bundled / f"{name}.yaml"):
        if _is(candidate, Path.is_file):
            return candidate
    names = ", ".join(sorted(path.stem for path in bundled.glob("*.yaml")))
    raise refused(name, f"no-{what}", f"no file of this name; bundled {many}: {names}")


def _beside(scenario: Path, name: str) -> str:
    """A file that a scenario names by its place beside it; else the name as it is."""
    candidate = scenario.parent / name
    return str(candidate) if _is(candidate, Path.is_file) else name


def _find_aircraft(arrival: Path, name: str) -> Path:
    """An aircraft's file: beside the arrival, or bundled. Raises `Rejected`."""
    folder = _root("scenarios") / "aircraft"
    for candidate in (arrival.parent / name, arrival.parent / f"{name}.yaml", folder / f"{name}.yaml"):
        if _is(candidate, Path.is_file):
            return candidate
    bundled = ", ".join(sorted(path.stem for path in folder.glob("*.yaml")))
    raise refused(_shown(arrival), "no-aircraft", f"aircraft: no file '{name}' beside it; bundled: {bundled}")


def _read(path: Path) -> bytes:
    return read_bounded(path, LARGEST, _shown(path))


def _shown(path: Path) -> str:
    """The path as a person would type it from here."""
    try:
        return str(path.resolve().relative_to(Path.cwd()))
    except (ValueError, OSError, RuntimeError):  # elsewhere; the working folder gone; a link to itself
        return str(path)


def _why(error: OSError) -> str:
    return f"cannot be read: {error.strerror or error}"
