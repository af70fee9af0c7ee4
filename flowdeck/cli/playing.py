"""The options of a played pilot, which several commands have: whose seat, how often something slips, by what seed."""

import argparse

from flowdeck.crew.pilot import Pilot
from flowdeck.live.bundled import read_lapses
from flowdeck.model.lapse import NO_LAPSES
from flowdeck.model.seats import Seat

_LAPSES = "how often the played pilot lets something slip: light, line, heavy or a file (default: never)"


def add_played(parser: argparse.ArgumentParser, option: str, words: str) -> None:
    """Add *option*, which names a seat, and `--lapses` and `--seed`."""
    parser.add_argument(option, dest="seat", type=_seat, metavar="SEAT", help=words)
    parser.add_argument("--lapses", metavar="NAME", help=_LAPSES)
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="of the played pilot's times and lapses")


def _seat(text: str) -> Seat:
    try:
        return Seat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is no seat; one is captain or first_officer") from None


def lapses_of_nobody(options: argparse.Namespace, example: str) -> str:
    """What is wrong where lapses are asked for and nobody is played; *example* is how to mend it."""
    if options.seat or (not options.lapses and options.seed == 1):
        return ""
    return f"--lapses and --seed are of a played pilot, and there is none; give {example}"


def played(options: argparse.Namespace, seat: Seat | None) -> tuple[Pilot, ...]:
    """Who is played: *seat*, with the lapses and the seed of the options. Raises `Rejected` for unreadable lapses."""
    if seat is None:
        return ()
    lapses = read_lapses(options.lapses) if options.lapses else NO_LAPSES
    return (Pilot(seat=seat, seed=options.seed, lapses=lapses),)
