"""How things look: weights and shapes first, colour only for warnings (red) and cautions (amber).

14 CFR 25.1322(e) (from memory): red for warnings, amber or yellow for cautions, neither for anything
else. All other difference is weight, shape and place, so that it reads in monochrome.
"""

from rich.style import Style

from flowdeck.view.lanes import Row

INK = "#d6dbe0"
FAINT = "#7f8a94"
PAPER = "#0f1317"
RAISED = "#1a2027"
AMBER = "#e3a62f"
RED = "#f0565b"

PLAIN = Style(color=INK)
DIM = Style(color=FAINT)
STRONG = Style(color="#ffffff", bold=True)
INVERSE = Style(color=PAPER, bgcolor=INK, bold=True)
ON_RAISED = Style(color=INK, bgcolor=RAISED)
CAUTION = Style(color=AMBER, bold=True)
WARNING = Style(color=RED, bold=True, reverse=True)

WEIGHTS: dict[str, Style] = {
    "note": DIM,
    "advice": PLAIN,
    "caution": CAUTION,
    "warning": WARNING,
}

SHAPES: dict[Row, str] = {
    Row.WARNING: "\u25b2",
    Row.SEEN: "\u25a0",
    Row.SAID: "\u25a1",
    Row.FOUND: "\u25c7",
    Row.HALF: "\u25e7",
    Row.MISSED: "\u2715",
    Row.PUT_OFF: "\u21b7",
    Row.NEXT: "\u25b8",
    Row.OWED: "\u00b7",
    Row.OVERDUE: "!",
    Row.BLOCKED: "\u2502",
    Row.AHEAD: " ",
}
"""One mark a row: a filled square was seen by the aircraft, an empty one only said."""
PASSED = "\u219b"
"""A line that the reader has passed over."""

LEGEND = (
    (Row.SEEN, "the aircraft shows it"),
    (Row.SAID, "only said"),
    (Row.FOUND, "was so already"),
    (Row.HALF, "done by one of the two"),
    (Row.MISSED, "missed"),
    (Row.PUT_OFF, "put off to a cue"),
    (Row.NEXT, "next"),
    (Row.OVERDUE, "late"),
    (Row.WARNING, "a gate was not met: go around"),
    (Row.BLOCKED, "waits for something that must come first"),
)
