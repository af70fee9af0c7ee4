"""Short words for the screen: readings, conditions and times as a pilot says them."""

import re

from flowdeck.engine.words import in_words, short, signals_of, title
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import PLACEHOLDER, Deck, Item
from flowdeck.model.diagnostic import visible
from flowdeck.model.readings import Readings

safe = visible
"""Text with what a terminal would obey, or nobody would see, shown as `<U+001B>`."""


def value_text(value: Scalar | None, unit: str = "") -> str:
    """A reading as it is said: whole where it is large, one decimal where small, two for a frequency."""
    if value is None:
        return "?"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        if unit == "mhz":
            return f"{value:.2f}"
        if unit == "nm" and abs(value) < 100:
            return f"{value:.1f}"
        return f"{value:.0f}"
    return safe(str(value))


def filled(text: str, deck: Deck, readings: Readings, now: int) -> str:
    """Shown text with each `{signal}` replaced by its reading, `?` when unknown."""

    def reading(match: re.Match[str]) -> str:
        signal = signals_of(deck)[match[1]]
        return value_text(readings.value(signal, now), signal.unit)

    return safe(PLACEHOLDER.sub(reading, text))


def plain(deck: Deck, number: int) -> str:
    """A condition in words, safe to show."""
    return safe(in_words(deck, number))


def blank(text: str) -> str:
    """Words of a call whose reading is not due yet."""
    return safe(PLACEHOLDER.sub("...", text))


def by_number(text: str) -> tuple[tuple[int, float, str], ...]:
    """A key that sorts numbers in a text as numbers, and words without regard to case."""
    parts = re.findall(r"\d+(?:\.\d+)?|\D+", text.casefold())
    return tuple((0, float(part), "") if part[0].isdecimal() else (1, 0.0, part) for part in parts)


def clock(ms: int) -> str:
    seconds = max(0, ms) // 1000
    return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}"


def deck_line(deck: Deck) -> str:
    """Which deck this is: printed on every report."""
    who = deck.identity
    effectivity = f", {who.effectivity}" if who.effectivity else ""
    return f"{who.title}, version {who.version} of {who.date}, {who.status}{effectivity}, {deck.hash[:12]}"


def deck_data(deck: Deck) -> dict[str, str]:
    """The same for reports in JSON."""
    who = deck.identity
    return {
        "id": deck.id,
        "title": who.title,
        "version": who.version,
        "date": who.date,
        "type": who.type,
        "operator": who.operator,
        "status": who.status,
        "effectivity": who.effectivity,
        "hash": deck.hash,
    }


def shown_to(item: Item, deck: Deck, readings: Readings, now: int) -> str:
    return filled(item.to, deck, readings, now)


__all__ = [
    "blank",
    "by_number",
    "clock",
    "deck_data",
    "deck_line",
    "filled",
    "plain",
    "safe",
    "short",
    "shown_to",
    "signals_of",
    "title",
    "value_text",
]
