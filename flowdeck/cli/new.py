"""`flowdeck new DECK`: a deck to begin with, with comments that teach the format."""

import argparse
from pathlib import Path

from flowdeck import DISCLAIMER
from flowdeck.live.scaffolding import new_deck

EXAMPLE = "example:\n  flowdeck new my-deck\n  flowdeck vet my-deck --strict"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument("deck", metavar="DECK", help="the folder to make; its last part is the deck's name")


def run(options: argparse.Namespace) -> int:
    shown = options.deck.rstrip("/")
    for path in new_deck(Path(options.deck), shown):
        print(path)
    scenario = f"{shown}/scenarios/clean.yaml"
    print(f"\n{DISCLAIMER}\nnext:")
    for command in (
        f"vet {shown} --strict",
        f"rehearse {scenario}",
        f"fly {scenario}",
        f"card {shown} --html card.html",
    ):
        print(f"  flowdeck {command}")
    return 0
