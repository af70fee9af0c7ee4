"""The time between two moments of a window, where it can be told from how they are written: our proposal."""

from flowdeck.model.condition import AllOf, AnyOf, Compare, Const, Expr, SignalRef
from flowdeck.model.deck import Deck, Limit

_NEAR_NM, _NEAR_KT, _FAR_KT = 10.0, 140.0, 250.0
_SINK_FPM = 1000.0


def time_between(deck: Deck, opens: int, end: Limit) -> float | None:
    """Seconds from the opening to *end* on a usual arrival; None where they are of unlike kinds."""
    if end.when is None:
        return end.after_s if end.start is None else None
    first, last = _falling(deck.conditions[opens].tree), _falling(deck.conditions[end.when].tree)
    for name in ("distance_nm", "height_aal_ft"):
        if name in first and name in last:
            return max(0.0, _since_far(name, last[name]) - _since_far(name, first[name]))
    return None


def _since_far(name: str, value: float) -> float:
    """Seconds at which a falling reading passes *value*, on a clock that starts far out."""
    if name == "height_aal_ft":
        return -value / _SINK_FPM * 60
    near, far = min(value, _NEAR_NM), max(value - _NEAR_NM, 0.0)
    return -(near / _NEAR_KT + far / _FAR_KT) * 3600


def _falling(tree: Expr) -> dict[str, float]:
    """Readings that must be at most so much: `distance_nm <= 8`. Of several ways the first that is met counts."""
    match tree:
        case Compare(operands=(SignalRef(name=name), Const(value=float() as value)), ops=("<" | "<=",)):
            return {name: value}
        case AllOf(parts=parts):
            found: dict[str, float] = {}
            for part in parts:
                for name, value in _falling(part).items():
                    found[name] = min(value, found.get(name, value))
            return found
        case AnyOf(parts=parts):
            each = [_falling(part) for part in parts]
            return {n: max(e[n] for e in each) for n in each[0] if all(n in e for e in each)}
        case _:
            return {}
