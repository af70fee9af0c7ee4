"""The values that show something, as a person would say them."""

from collections.abc import Mapping
from fractions import Fraction

from flowdeck.vet.proof.formula import TRUE

MOST = 6
"""Values that are named; the rest does not matter to anybody."""


def in_words(values: Mapping[str, str | Fraction]) -> str:
    """`altitude_ft 3000, gear 'down', not visual`: the readings first, in the order of their names."""
    told = [said for name in sorted(values, key=_rank) if (said := _one(name, values[name], values))]
    return ", ".join(told[:MOST]) if told else "in any case"


def _rank(name: str) -> tuple[int, str]:
    return (name != "phase", name) if " " not in name else (2, name)


def _one(name: str, value: str | Fraction, values: Mapping[str, str | Fraction]) -> str:
    kind, _, ref = name.partition(" ")
    match kind:
        case "fact":
            return ref if value == TRUE else f"not {ref}"
        case "done":
            return f"'{ref}' done" if value == TRUE else f"'{ref}' not done"
        case "since":
            return f"{number(value)} s since '{ref}'"
        case "age":
            return f"{ref} {number(value)} s old"
        case "happened":
            return "" if f"since {ref}" in values else f"'{ref}' has been" if value == TRUE else f"'{ref}' has not been"
        case "held" | "rising" | "falling" | "heard" | "made":
            return ""
        case "phase":
            return f"in the phase '{value}'"
        case _ if isinstance(value, Fraction):
            return f"{name} {number(value)}"
        case _ if value in ("true", "false"):
            return name if value == TRUE else f"not {name}"
        case _:
            return f"{name} '{value}'"


def number(value: str | Fraction) -> str:
    """A number without what nobody reads."""
    return f"{float(value):.6g}" if abs(float(value)) < 1e6 else f"{float(value):.0f}"
