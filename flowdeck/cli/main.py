"""The command line: one module a command, imported only when it is asked for."""

import argparse
import io
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import NoReturn

from flowdeck import DISCLAIMER, __version__
from flowdeck.live.collecting import no_collecting


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with what was typed without letting it act on the terminal."""

    def error(self, message: str) -> NoReturn:
        from flowdeck.model.diagnostic import visible

        super().error(visible(message))


COMMANDS: dict[str, str] = {
    "fly": "fly an arrival on the screen",
    "rehearse": "fly it without a screen, the scripted crew acting",
    "brief": "work out the numbers of an arrival",
    "card": "print cards of a deck, one a seat or all checklists",
    "compare": "say what a reviser must sign between two decks",
    "debrief": "say what slipped in a flight, when, and who trapped it",
    "host": "host a flight for two pilots at terminals of their own",
    "join": "take a place in a flight that another terminal hosts",
    "log": "keep flights in a logbook, and show what their trend is",
    "new": "begin a deck of your own",
    "trial": "fly many arrivals at random and say what they show of a deck",
    "schema": "print the JSON Schema of a kind of file",
    "vet": "say all that is wrong with a deck, and prove what can be proved of it",
}
FINE, FINDINGS, UNUSABLE = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns 0 fine, 1 findings or deviations, 2 unusable input."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # a terminal that has not every letter
    parser = _Parser(
        prog="flowdeck",
        description="Checklists, silent flows, calls and gates of a two-pilot arrival, held and judged.",
        epilog=DISCLAIMER,
    )
    parser.add_argument("--version", action="version", version=f"flowdeck {__version__}. {DISCLAIMER}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    named = next((word for word in given if not word.startswith("-")), "")
    for name, about in COMMANDS.items():
        sub = commands.add_parser(name, help=about, description=about.capitalize() + ".", epilog=DISCLAIMER)
        if name == named:
            with no_collecting():
                module = import_module(f"flowdeck.cli.{name}")
            sub.formatter_class = argparse.RawDescriptionHelpFormatter
            module.add_arguments(sub)
            sub.set_defaults(run=module.run)
    options = parser.parse_args(given)
    from flowdeck.model.diagnostic import Rejected, Unsettled

    try:
        return int(options.run(options))
    except Rejected as rejected:
        for finding in rejected.findings:
            print(finding, file=sys.stderr)
        return UNUSABLE
    except Unsettled as error:
        print(f"this deck cannot be flown: {error}", file=sys.stderr)
        return UNUSABLE
    except BrokenPipeError:
        return FINE
    except KeyboardInterrupt:
        return 130
