"""The vertical path, planned and flown, and the numbers that were worked out beforehand, as one page."""

from rich.text import Text

from flowdeck.aircraft.watch import brief_of, watch_of
from flowdeck.tui.look import DIM, PLAIN, STRONG
from flowdeck.tui.shown import Shown
from flowdeck.tui.widgets.path import drawn
from flowdeck.view.brief.words import caution_title
from flowdeck.view.path import PathView, make_path
from flowdeck.view.words import safe, signals_of, value_text

_WIDTH, _HEIGHT = 78, 18


def path_of(shown: Shown) -> PathView:
    """The vertical path of the flight as it is now."""
    flight = shown.flight
    return make_path(
        flight.readings.values, flight.scenario.place, watch_of(flight.scenario, flight.plane), shown.flown
    )


def numbers_text(shown: Shown) -> Text:
    """Path and numbers as they are now."""
    view = path_of(shown)
    text = Text(f"Vertical path, last {view.far_nm:g} NM", style=STRONG)
    text.append("   dotted: planned   drawn through: flown   \u25b6 now\n\n", style=DIM)
    for row in drawn(view, _WIDTH, _HEIGHT):
        for segment in row:
            text.append(segment.text, style=segment.style or PLAIN)
        text.append("\n")
    text.append("\n")
    for line in view.lines:
        text.append(f"  {line.title:38}", style=DIM)
        text.append(f"{line.value}\n", style=STRONG if line.weight == "strong" else PLAIN)
    text.append("\nPlanned\n", style=STRONG)
    readings, now = shown.flight.readings, shown.now
    for signal in signals_of(shown.flight.deck).values():
        if signal.planned and signal.name in readings.values:
            value = value_text(readings.value(signal, now), signal.unit)
            text.append(f"  {signal.title:38}", style=DIM)
            text.append(f"{value:>8} {signal.unit}\n", style=PLAIN)
    brief = brief_of(shown.flight.scenario, shown.flight.plane)
    if brief is not None and (brief.cautions or brief.unknown):
        text.append("\nCautions of the brief\n", style=STRONG)
        for caution in brief.cautions:
            text.append(f"  {caution_title(caution.kind)}: {safe(caution.words)}\n", style=PLAIN)
        for words in brief.unknown:
            text.append(f"  Could not be worked out: {safe(words)}\n", style=PLAIN)
    return text
