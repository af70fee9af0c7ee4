"""`flowdeck schema KIND`: the JSON Schema of a kind of file, for an editor."""

import argparse
import json

from flowdeck.phasefile.schema import SHAPES, schema_of

EXAMPLE = """example:
  flowdeck schema phase > phase.schema.json
  and as the first line of a phase file, for an editor with a YAML language server:
  # yaml-language-server: $schema=phase.schema.json"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument("kind", choices=sorted(SHAPES), metavar="KIND", help=f"one of: {', '.join(sorted(SHAPES))}")


def run(options: argparse.Namespace) -> int:
    print(json.dumps(schema_of(options.kind), indent=2))
    return 0
