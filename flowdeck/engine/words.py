"""Conditions and names as a pilot says them: `dist ≤ 8 NM`, `landing gear down`, `120 s after Engine lever 1 CUTOFF`.

Said from the tree, so that what is shown is what is judged.
"""

from functools import lru_cache
from typing import assert_never

from flowdeck.model import condition as c
from flowdeck.model.deck import PLACEHOLDER, Deck, ItemKind
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
    "past_threshold_m": "past thr",
    "fuel_kg": "fuel",
    "apu_state": "apu",
    "bus_source": "buses",
    "parking_brake": "brake",
    "brake_pressure": "pressure",
    "vertical_mode": "mode",
    "lateral_mode": "track mode",
    "emergency_lights": "emerg lights",
    "gear": "gear",
    "reverse": "reverse",
}
"""Names for the strip and for conditions; any other signal goes by its title."""

_UNITS = {"ft": " ft", "kt": " kt", "nm": " NM", "m": " m", "c": " C", "pct": "%", "hpa": " hPa", "kg": " kg"}
_OPS = {"<=": "\u2264", ">=": "\u2265", "<": "<", ">": ">", "==": "", "!=": "not"}


def short(signal: Signal) -> str:
    """How a signal is called where there is little room."""
    return SHORT.get(signal.name, signal.title.lower())


@lru_cache(maxsize=4)
def signals_of(deck: Deck) -> dict[str, Signal]:
    """The deck's signals by name."""
    return {signal.name: signal for signal in deck.signals}


def title(deck: Deck, ref: str) -> str:
    """The name by which a pilot knows an item, list, gate or phase."""
    if ref in deck.items:
        item = deck.items[ref]
        if item.kind in (ItemKind.CALL, ItemKind.ANSWER):
            return f"'{PLACEHOLDER.sub('...', item.do)}'"
        return f"{item.do} {item.to}".strip() if "{" not in item.to else item.do
    if ref in deck.checklists:
        return deck.checklists[ref].title
    if ref in deck.gates:
        return deck.gates[ref].title
    if ref in deck.phases:
        return deck.phases[ref].title
    return ref.replace("-", " ")


def in_words(deck: Deck, number: int) -> str:
    """Condition *number* of the deck in words."""
    kept = _said(deck)
    if number not in kept:
        kept[number] = _say(deck, deck.conditions[number].tree)
    return kept[number]


@lru_cache(maxsize=4)
def _said(deck: Deck) -> dict[int, str]:
    """What was put into words already; a few decks, so that one that is not looked at any more is let go."""
    return {}


def _say(deck: Deck, tree: c.Expr) -> str:
    match tree:
        case c.Const():
            return _value(tree.value)
        case c.SignalRef():
            return short(signals_of(deck)[tree.name])
        case c.FactRef():
            return deck.facts[tree.name].title.lower()
        case c.PhaseRef():
            return "phase"
        case c.Done():
            return f"after {title(deck, tree.ref)}"
        case c.Since():
            return f"time since {title(deck, tree.ref)}"
        case c.Age():
            return f"age of {short(signals_of(deck)[tree.signal])}"
        case c.Held():
            return f"{_bracketed(deck, deck.conditions[tree.inner].tree)} for {tree.seconds:g} s"
        case c.Rising():
            return f"{in_words(deck, tree.inner)} begins"
        case c.Falling():
            return f"{in_words(deck, tree.inner)} ends"
        case c.Turn():
            return f"turn from {_say(deck, tree.first)} to {_say(deck, tree.second)}"
        case c.Arith():
            return f"{_say(deck, tree.left)} {tree.op} {_say(deck, tree.right)}"
        case c.Negate():
            return f"-{_say(deck, tree.operand)}"
        case c.Func():
            inner = ", ".join(_say(deck, part) for part in tree.args)
            return inner if tree.name == "abs" else f"{tree.name} of {inner}"
        case c.Compare():
            return _compare(deck, tree)
        case c.OneOf():
            options = " or ".join(_value(option) for option in tree.options)
            return f"{_say(deck, tree.subject)} {'not ' if tree.negated else ''}{options}"
        case c.Not():
            return f"not {_bracketed(deck, tree.operand)}"
        case c.AllOf():
            return " and ".join(_bracketed(deck, part) for part in tree.parts)
        case c.AnyOf():
            return " or ".join(_bracketed(deck, part) for part in tree.parts)
        case _:
            assert_never(tree)


def _bracketed(deck: Deck, tree: c.Expr) -> str:
    """A part of a condition; in brackets where "and" and "or" would run into one another."""
    said = _say(deck, tree)
    return f"({said})" if isinstance(tree, c.AllOf | c.AnyOf) else said


def _compare(deck: Deck, tree: c.Compare) -> str:
    words = _say(deck, tree.operands[0])
    for i, op in enumerate(tree.ops):
        left, right = tree.operands[i], tree.operands[i + 1]
        if isinstance(left, c.Since) and isinstance(right, c.Const) and op in (">", ">=") and len(tree.ops) == 1:
            after = f"after {title(deck, left.ref)}"
            return f"{_value(right.value)} s {after}" if right.value else after
        unit = _unit(deck, left) if isinstance(right, c.Const) else ""
        sign = f" {_OPS[op]}" if _OPS[op] else ""
        words += f"{sign} {_say(deck, right)}{unit}"
    return words


def _unit(deck: Deck, tree: c.Expr) -> str:
    """The unit of a bare signal, so that a bound is said with it."""
    match tree:
        case c.SignalRef():
            return _UNITS.get(signals_of(deck)[tree.name].unit, "")
        case c.Since() | c.Age():
            return " s"
        case c.Func(name="abs", args=(inner,)):
            return _unit(deck, inner)
        case _:
            return ""


def unit_text(unit: str) -> str:
    """A unit as it is written after a number, with its blank."""
    return _UNITS.get(unit, f" {'MHz' if unit == 'mhz' else unit}" if unit else "")


def _value(value: c.Scalar) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, (int, float)) else value
