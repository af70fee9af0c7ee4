"""The language of conditions: text, checked and compiled, in three values.

The law:

- A condition is text in a whitelisted subset of Python's expression grammar. It is parsed, never run;
  any other text gives findings, never an exception.
- A condition is true, false, or unknown (None). A comparison with an unknown reading is unknown, and so
  is a division by zero. `and` is false as soon as one part is false, `or` true as soon as one is true,
  known or not the rest; `not` unknown is unknown. `done` is always known.
- `held(c, s)` is true when c is true now, was true at the look before, and became true at least s seconds
  ago; while c is true for a shorter time it is false, while c is unknown it is unknown. `rising(c)` is
  true at the one look at which c goes from false to true; from unknown nothing rises. `falling` likewise.
- Nothing is remembered here: the truths of the last look are passed in and live in the session.
- Values of unlike units are never compared or added; plain numbers fit any unit.
"""

from flowdeck.conditions.compile import Truths, changed_at, compile_truths
from flowdeck.conditions.describe import facts_used, names_used, refs_used
from flowdeck.conditions.evaluate import Evaluator
from flowdeck.conditions.meaning import Names, names_of
from flowdeck.conditions.table import Table

__all__ = [
    "Evaluator",
    "Names",
    "Table",
    "Truths",
    "changed_at",
    "compile_truths",
    "facts_used",
    "names_of",
    "names_used",
    "refs_used",
]
