"""`flowdeck fly --replay JOURNAL`: a flight that was flown, looked at again."""

import argparse
import sys
import time

from flowdeck import DISCLAIMER
from flowdeck.cli.terminal import has_terminal
from flowdeck.live.collecting import no_collecting
from flowdeck.live.journal import add_note, read_flight
from flowdeck.live.keymap import read_keymap
from flowdeck.live.projector import Projector
from flowdeck.model.events import Noted
from flowdeck.trial.film import Film
from flowdeck.tui.replay_keys import REPLAY_KEYS


def replay(options: argparse.Namespace) -> int:
    """0 when the screen was left. Raises `Rejected` for a journal that cannot be read."""
    mapped = read_keymap(options.keys, {action.name: action.key for action in REPLAY_KEYS}) if options.keys else {}
    return look_again(options.replay, mapped, salvage=options.salvage)


def look_again(path: str, mapped: dict[str, str], *, salvage: bool = False, debrief: bool = False) -> int:
    """The flight of the journal at *path* on the screen. *debrief*: with the debrief over it at first."""
    opened = read_flight(path, salvage=salvage)
    for note in opened.notes:
        print(note, file=sys.stderr)
    if not has_terminal():
        print("--replay needs a terminal; without one: flowdeck debrief JOURNAL --timeline", file=sys.stderr)
        return 2
    film = Film(opened.deck, opened.scenario, opened.events)
    known = len(opened.events)

    def keep(note: Noted) -> str:
        nonlocal known
        if any(finding.kind != "torn-line" for finding in opened.notes):
            return "noted, and not kept: this journal is damaged"
        said = add_note(path, note, known)
        known += said == "noted"
        return said

    with no_collecting():
        projector = Projector(film, keep, time.monotonic)
        projector.greeting = "space plays, . goes to the next bookmark, d is the debrief, ? tells the rest"
        print(DISCLAIMER, file=sys.stderr)
        from flowdeck.tui.app import FlowdeckApp
    FlowdeckApp(projector, mapped, debrief=debrief).run()
    return 0
