"""The algebra of units: a unit is a product of named powers, `nm` or `ft` or `ft` per `nm`.

None is the unit of a plain number written in the text: it fits any unit. `()` is that of a pure
number that was read or worked out (a trim setting, a ratio); it fits itself and plain numbers.
"""

from typing import TypeAlias

Unit: TypeAlias = tuple[tuple[str, int], ...] | None

PURE: Unit = ()


def unit(name: str) -> Unit:
    """The unit of a signal whose `unit` is *name*; empty for a pure number."""
    return ((name, 1),) if name else PURE


def alike(first: Unit, second: Unit) -> bool:
    """True when values of the two may be added or compared."""
    return first is None or second is None or first == second


def times(first: Unit, second: Unit, sign: int = 1) -> Unit:
    """The unit of first * second, or of first / second with *sign* -1."""
    if first is None and second is None:
        return None
    powers = dict(first or ())
    for name, power in second or ():
        powers[name] = powers.get(name, 0) + sign * power
    return tuple(sorted((name, power) for name, power in powers.items() if power))


def shown(value: Unit) -> str:
    """`in ft`, `in ft per nm`, `without a unit`."""
    above = [name if power == 1 else f"{name}^{power}" for name, power in value or () if power > 0]
    below = [name if power == -1 else f"{name}^{-power}" for name, power in value or () if power < 0]
    if not above and not below:
        return "without a unit"
    return "in " + (" ".join(above) or "1") + ("".join(f" per {name}" for name in below))
