"""How a command takes up the flight of a journal again: what was lost is said, the tool's seats are taken as before."""

import re
import sys
import time
from collections.abc import Callable

from flowdeck.live.bundled import read_deck
from flowdeck.live.host import Host
from flowdeck.live.journal import Journal, read_flight
from flowdeck.model.diagnostic import Rejected, refused, visible
from flowdeck.trial.company import pilots_of
from flowdeck.trial.flight import Flight
from flowdeck.trial.restore import flown_path, interrupted, restore
from flowdeck.view.words import clock
from flowdeck.wire.journal import Opened

NEEDLESS = "--salvage goes with --resume FILE"


def resuming(path: str, *, salvage: bool) -> Callable[[], Host]:
    """The flight of a journal, read and checked. Raises `Rejected`; the journal is opened only when it goes on."""
    opened = read_flight(path, salvage=salvage)
    flight = _restored(path, opened)
    for note in opened.notes:
        print(note, file=sys.stderr)
    _say_changed(opened.header.deck_id, opened.header.deck_hash)

    def go_on() -> Host:
        journal, locked = Journal.salvage(path) if salvage else Journal.resume(path)
        try:
            waiting, events = interrupted(flight if locked.events == opened.events else _restored(path, locked))
        except Rejected:
            journal.close()
            raise
        journal.append(events, sure=True)
        past = (*locked.events, *events)
        host = Host(waiting, journal, time.monotonic, past=past, pilots=pilots_of(past))
        host.flown = flown_path(locked.events)
        host.greeting = _greeting(locked, journal)
        return host

    return go_on


def _greeting(opened: Opened, journal: Journal) -> str:
    """What was lost, for the crew: said on the screen, since what stands in the terminal is behind it."""
    if any(note.kind == "salvage" for note in opened.notes):
        upto = clock(opened.events[-1].at)
        return f"Salvaged up to {upto}, the rest is lost; saved from here in {visible(journal.path.name)}"
    return " ".join(f"{note.message[:1].upper()}{note.message[1:]}" for note in opened.notes)


def _restored(path: str, opened: Opened) -> Flight:
    try:
        return restore(opened.deck, opened.scenario, opened.events)
    except ValueError as error:
        raise refused(path, "journal", str(error)) from None


def _say_changed(deck_id: str, deck_hash: str) -> None:
    """The journal keeps its own deck; say when the one on disk has moved on."""
    if re.fullmatch(r"[a-z0-9-]{1,60}", deck_id) is None:
        return  # no name of a deck; a path is for whoever flies to give
    try:
        now = read_deck(deck_id)[0].hash
    except Rejected:
        return
    if now != deck_hash:
        print(f"the deck '{deck_id}' has changed since; this flight keeps its own", file=sys.stderr)
