"""Short words for the screen: readings, conditions and times as a pilot says them."""

import re
from functools import lru_cache

from flowdeck.model.condition import Scalar
from flowdeck.model.deck import PLACEHOLDER, Deck, Item
from flowdeck.model.readings import Readings
from flowdeck.model.signals import Signal

SHORT: dict[str, str] = {
    "altitude_ft": "alt",
    "height_aal_ft": "above field",
    "radio_height_ft": "radio",
    "ias_kt": "ias",
    "groundspeed_kt": "gs",
    "vertical_speed_fpm": "v/s",
    "heading_deg": "hdg",
    "distance_nm": "dist",
    "fix_distance_nm": "to fix",
    "selected_altitude_ft": "sel alt",
    "selected_speed_kt": "sel spd",
    "cleared_altitude_ft": "cleared",
    "pressure_left_hpa": "press L",
    "pressure_right_hpa": "press R",
    "pressure_reported_hpa": "reported",
    "tat_c": "tat",
    "sat_c": "sat",
    "flap_deg": "flap",
    "stand_distance_m": "stand",
    "n2_1_pct": "N2 1",
    "n2_2_pct": "N2 2",
    "egt_1_c": "egt 1",
    "egt_2_c": "egt 2",
    "path_error_ft": "off path",
    "apu_state": "apu",
    "bus_source": "buses",
    "parking_brake": "brake",
    "brake_pressure": "pressure",
    "battery": "battery",
    "vertical_mode": "mode",
    "emergency_lights": "emerg lights",
    "past_threshold_m": "past thr",
    "fuel_kg": "fuel",
}
_UNITS = {"ft": "ft", "kt": "kt", "nm": "NM", "m": "m", "s": "s", "deg": "deg", "c": "C", "pct": "%", "hpa": "hPa"}
_DONE = re.compile(r"done\('([^']+)'\)")
_SINCE = re.compile(r"since\('([^']+)'\)")
_HELD = re.compile(r"held\((.+), (\d+)\)")
_BOUND = re.compile(r"\b([a-z][a-z0-9_]*) (<=|>=|<|>) (-?\d+(?:\.\d+)?)")
_CONTROL = {i: f"\\x{i:02x}" for i in (*range(32), *range(127, 160))}


def safe(text: str) -> str:
    """Text with control characters shown, never obeyed."""
    return text.translate(_CONTROL)


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


def short(signal: Signal) -> str:
    return SHORT.get(signal.name, signal.title.lower())


def filled(text: str, deck: Deck, readings: Readings, now: int) -> str:
    """Shown text with each `{signal}` replaced by its reading, `?` when unknown."""

    def reading(match: re.Match[str]) -> str:
        signal = signals_of(deck)[match[1]]
        return value_text(readings.value(signal, now), signal.unit)

    return safe(PLACEHOLDER.sub(reading, text))


@lru_cache(maxsize=4)
def signals_of(deck: Deck) -> dict[str, Signal]:
    return {signal.name: signal for signal in deck.signals}


def title(deck: Deck, ref: str) -> str:
    """The name by which a pilot knows an item, list, gate or phase."""
    if ref in deck.items:
        item = deck.items[ref]
        return f"{item.do} {item.to}".strip() if "{" not in item.to else item.do
    if ref in deck.checklists:
        return deck.checklists[ref].title
    if ref in deck.gates:
        return deck.gates[ref].title
    if ref in deck.phases:
        return deck.phases[ref].title
    return ref.replace("-", " ")


@lru_cache(maxsize=1024)
def plain(deck: Deck, number: int) -> str:
    """A condition in words: `distance 5 NM or less`, near enough to be read at a glance."""
    text = deck.conditions[number].text
    text = _DONE.sub(lambda m: f"after {title(deck, m[1])}", text)
    text = _SINCE.sub(lambda m: f"time since {title(deck, m[1])}", text)
    text = _HELD.sub(lambda m: f"{m[1]} for {m[2]} s", text)
    signals = signals_of(deck)

    def bound(match: re.Match[str]) -> str:
        signal = signals.get(match[1])
        if signal is None:
            return match[0]
        unit = _UNITS.get(signal.unit, "")
        space = "" if unit == "%" else " "
        return f"{short(signal)} {match[2]} {match[3]}" + (f"{space}{unit}" if unit and unit != "deg" else "")

    text = _BOUND.sub(bound, text)

    def name(match: re.Match[str]) -> str:
        word = match[0]
        if word in signals:
            return short(signals[word])
        if word in deck.facts:
            return deck.facts[word].title.lower()
        return word

    text = re.sub(r"(?<!')\b[a-z][a-z0-9_]*_[a-z0-9_]+\b|\b[a-z]+\b(?!')", name, text)
    text = text.replace(" == ", " ").replace(" != ", " not ").replace("<=", "\u2264").replace(">=", "\u2265")
    return safe(text.replace("'", ""))


def clock(ms: int) -> str:
    seconds = max(0, ms) // 1000
    return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}"


def shown_to(item: Item, deck: Deck, readings: Readings, now: int) -> str:
    return filled(item.to, deck, readings, now)
