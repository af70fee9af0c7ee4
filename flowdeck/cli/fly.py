"""`flowdeck fly [SCENARIO]`: the screen."""

import argparse
import sys
from collections.abc import Callable

from flowdeck import DISCLAIMER
from flowdeck.cli.beginning import beginning
from flowdeck.cli.ending import ending
from flowdeck.cli.playing import add_played, lapses_of_nobody, played
from flowdeck.cli.resuming import NEEDLESS, resuming
from flowdeck.cli.terminal import has_terminal
from flowdeck.live.bundled import read_deck, read_scenario
from flowdeck.live.collecting import no_collecting
from flowdeck.live.host import Host
from flowdeck.live.keymap import read_keymap
from flowdeck.live.seated import Seated
from flowdeck.model import inputs as inp
from flowdeck.trial.presets import with_presets
from flowdeck.tui.keys import KEYS

DEFAULT = "clean"
EXAMPLE = (
    "examples:\n  flowdeck fly\n  flowdeck fly icing --journal today.journal\n  flowdeck fly --resume today.journal\n"
    "  flowdeck fly --replay today.journal\n  flowdeck fly --seat captain --lapses heavy"
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument("scenario", nargs="?", metavar="SCENARIO", help="default: clean")
    parser.add_argument("--deck", metavar="DIR", help="another deck than the scenario's own")
    parser.add_argument("--journal", metavar="FILE", help="write the events to FILE")
    parser.add_argument("--resume", metavar="FILE", help="go on with the flight of a journal")
    parser.add_argument("--salvage", action="store_true", help="with --resume or --replay: what is sound of a journal")
    parser.add_argument("--replay", metavar="FILE", help="look at the flight of a journal again, at any pace")
    parser.add_argument("--script", metavar="FILE", help="an instructor's script: what happens beside the scenario")
    add_played(parser, "--seat", "your seat, captain or first_officer; the tool plays the other one")
    parser.add_argument("--drill", action="store_true", help="the lanes do not show what is next")
    parser.add_argument("--withhold", action="store_true", help="no prompts until the debrief")
    parser.add_argument("--pace", type=_pace, default=1.0, metavar="N", help="pace of time, 1 to 16 (default: 1)")
    parser.add_argument("--keys", metavar="FILE", help="other keys: YAML lines of `action: key`")


def _pace(text: str) -> float:
    try:
        pace = float(text)
    except ValueError:
        pace = 0.0
    if not 1 <= pace <= 16:
        raise argparse.ArgumentTypeError(f"'{text}' is not a pace from 1 to 16")
    return pace


def _given(options: argparse.Namespace) -> list[str]:
    """Options that only a new flight takes."""
    new = {
        "SCENARIO": options.scenario,
        "--deck": options.deck,
        "--journal": options.journal,
        "--drill": options.drill,
        "--withhold": options.withhold,
        "--pace": options.pace != 1,
        "--script": options.script,
        "--seat": options.seat,
        "--lapses": options.lapses,
        "--seed": options.seed != 1,
    }
    return [name for name, value in new.items() if value]


def run(options: argparse.Namespace) -> int:
    if options.replay:
        given = [*_given(options), *(["--resume"] if options.resume else [])]
        if given:
            print(f"--replay shows a flight as it was; leave out: {', '.join(given)}", file=sys.stderr)
            return 2
        from flowdeck.cli.replay import replay

        return replay(options)
    mapped = read_keymap(options.keys, {action.name: action.key for action in KEYS}) if options.keys else {}
    if options.resume and _given(options):
        print(f"--resume goes on with a flight as it was; leave out: {', '.join(_given(options))}", file=sys.stderr)
        return 2
    if options.salvage and not options.resume:
        print(f"{NEEDLESS} or --replay FILE", file=sys.stderr)
        return 2
    if needless := lapses_of_nobody(options, "your own seat: --seat captain"):
        print(needless, file=sys.stderr)
        return 2
    ready = resuming(options.resume, salvage=options.salvage) if options.resume else _to_begin(options)
    if not has_terminal():  # before any journal is written
        print("fly needs a terminal; without one: flowdeck rehearse SCENARIO", file=sys.stderr)
        return 2
    with no_collecting():
        host = ready()
        print(DISCLAIMER, file=sys.stderr)
        from flowdeck.tui.app import FlowdeckApp
    try:
        FlowdeckApp(Seated(host) if host.pilots else host, mapped).run()
    finally:
        host.close()
    return ending(host)


def _to_begin(options: argparse.Namespace) -> Callable[[], Host]:
    """A new flight, read and checked. Raises `Rejected`; the journal is made only when it begins."""
    given = read_deck(options.deck)[0] if options.deck else None
    deck, scenario, notes = read_scenario(options.scenario or DEFAULT, given, options.script)
    scenario = with_presets(deck, scenario)
    pilots = played(options, options.seat.other if options.seat else None)
    for note in notes:
        print(note, file=sys.stderr)

    def begin() -> Host:
        host = beginning(deck, scenario, options.journal, pilots, solo=not pilots)
        if options.drill or options.withhold:
            host.send(inp.SetAid(at=0, aid="drill" if options.drill else "guided", withhold=options.withhold))
        if options.pace != 1:
            host.send(inp.SetPace(at=0, pace=options.pace))
        return host

    return begin
