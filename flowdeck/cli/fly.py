"""`flowdeck fly [SCENARIO]`: the screen."""

import argparse
import sys
import time
from pathlib import Path

from flowdeck import DISCLAIMER
from flowdeck.live.bundled import read_deck, read_scenario
from flowdeck.live.host import Host
from flowdeck.live.journal import Journal
from flowdeck.live.keymap import read_keymap
from flowdeck.tui.keys import KEYS

EXAMPLE = (
    "examples:\n  flowdeck fly\n  flowdeck fly icing --journal today.journal\n  flowdeck fly --resume today.journal"
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument("scenario", nargs="?", default="clean", metavar="SCENARIO", help="default: clean")
    parser.add_argument("--deck", metavar="DIR", help="another deck than the scenario's own")
    parser.add_argument("--journal", metavar="FILE", help="write the events to FILE")
    parser.add_argument("--resume", metavar="FILE", help="go on with the flight of a journal")
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


def run(options: argparse.Namespace) -> int:
    mapped = read_keymap(options.keys, [action.name for action in KEYS]) if options.keys else {}
    host = _resumed(options) if options.resume else _begun(options)
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        host.close()
        print("fly needs a terminal; without one: flowdeck rehearse SCENARIO", file=sys.stderr)
        return 2
    print(DISCLAIMER, file=sys.stderr)
    from flowdeck.tui.app import FlowdeckApp

    try:
        FlowdeckApp(host, mapped).run()
    finally:
        host.close()
    session = host.flight.session
    weighty = [d for d in session.deviations if d.severity != "advice" and d.superseded_by is None]
    end = session.ended or f"left in {session.phase.replace('_', '-')}"
    print(f"{end}; {len(session.deviations)} deviations, {len(weighty)} of caution or above")
    if host.journal is not None:
        print(f"journal: {host.journal.path}")
    return 1 if weighty else 0


def _begun(options: argparse.Namespace) -> Host:
    from flowdeck.model import inputs as inp
    from flowdeck.trial.flight import take_off

    given = read_deck(options.deck)[0] if options.deck else None
    deck, scenario, notes = read_scenario(options.scenario, given)
    for note in notes:
        print(note, file=sys.stderr)
    flight, events = take_off(deck, scenario, solo=True)
    journal = Journal.create(options.journal, deck, scenario, solo=True) if options.journal else None
    if journal is not None:
        journal.append(events, sure=True)
    host = Host(flight, journal, time.monotonic)
    if options.drill or options.withhold:
        aid = "drill" if options.drill else "guided"
        host.send(inp.SetAid(at=0, aid="drill" if aid == "drill" else "guided", withhold=options.withhold))
    if options.pace != 1:
        host.send(inp.SetPace(at=0, pace=options.pace))
    return host


def _resumed(options: argparse.Namespace) -> Host:
    from flowdeck.model.diagnostic import Diagnostic, Place, Rejected
    from flowdeck.trial.restore import interrupted, restore

    journal, opened = Journal.resume(options.resume)
    for note in opened.notes:
        print(note, file=sys.stderr)
    try:
        flight = restore(opened.deck, opened.scenario, opened.events)
    except ValueError as error:
        journal.close()
        place = Place(str(Path(options.resume)), 2)
        raise Rejected((Diagnostic(place=place, kind="journal", message=str(error)),)) from None
    _say_changed(opened.header.deck_id, opened.header.deck_hash)
    flight, events = interrupted(flight)
    journal.append(events, sure=True)
    return Host(flight, journal, time.monotonic)


def _say_changed(deck_id: str, deck_hash: str) -> None:
    """The journal keeps its own deck; say when the one on disk has moved on."""
    from flowdeck.model.diagnostic import Rejected

    try:
        now = read_deck(deck_id)[0].hash
    except Rejected:
        return
    if now != deck_hash:
        print(f"the deck '{deck_id}' has changed since; this flight keeps its own", file=sys.stderr)
