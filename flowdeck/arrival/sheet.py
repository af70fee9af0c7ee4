"""Figures of a brief as they are worked out: each with its rule and rounding, and what could not be worked out.

The law: what rests on an unknown value is unknown too, and said to be; a rule left or a table ended is a named
caution. Nothing is ever guessed.
"""

from collections.abc import Callable
from typing import Literal, TypeAlias

from msgspec import Struct

from flowdeck.arrival.bounds import OutOfRange

Kind: TypeAlias = Literal[
    "beyond_table",
    "cold",
    "constraint",
    "flap_speed",
    "fuel",
    "mass",
    "minimum",
    "missing",
    "path",
    "runway",
    "speed",
    "table",
    "unread",
    "wind",
]


class Unknown(Exception):
    """A value that the weather or the file does not give; says which."""


class Figure(Struct, frozen=True, kw_only=True):
    """*key* has its unit in its name; *rule* says how it was worked out, *rounding* what was done to it at the end."""

    key: str
    title: str
    value: float | str
    unit: str = ""
    rule: str
    rounding: str = ""


class Section(Struct, frozen=True, kw_only=True):
    title: str
    figures: tuple[Figure, ...]


class Caution(Struct, frozen=True, kw_only=True):
    """*no_landing*: as planned, the landing is not possible."""

    kind: Kind
    words: str
    no_landing: bool = False


class Sheet:
    """Collects figures, section by section."""

    def __init__(self) -> None:
        self.sections: list[Section] = []
        self.cautions: list[Caution] = []
        self.unknown: list[str] = []
        self._figures: dict[str, Figure] = {}
        self._open: list[Figure] = []

    def section(self, title: str, *parts: Callable[[], None]) -> None:
        """Work through *parts*; each stops where something it needs is not known."""
        self._open = []
        for part in parts:
            try:
                part()
            except Unknown as lacking:
                self.unknown.append(f"{title}: {lacking}")
            except OutOfRange as beyond:
                self.warn("beyond_table", f"{title}: {beyond}")
                self.unknown.append(f"{title}: {beyond}")
        if self._open:
            self.sections.append(Section(title=title, figures=tuple(self._open)))

    def put(self, key: str, title: str, value: float | str, unit: str = "", *, rule: str, rounding: str = "") -> None:
        figure = Figure(key=key, title=title, value=value, unit=unit, rule=rule, rounding=rounding)
        self._figures[key] = figure
        self._open.append(figure)

    def need(self, key: str, title: str) -> float:
        """A number that was put before. Raises `Unknown`, naming it as *title*."""
        figure = self._figures.get(key)
        if figure is None or isinstance(figure.value, str):
            raise Unknown(f"needs the {title}, which is not known")
        return figure.value

    def warn(self, kind: Kind, words: str, *, no_landing: bool = False) -> None:
        self.cautions.append(Caution(kind=kind, words=words, no_landing=no_landing))


def known(value: float | None, title: str) -> float:
    """A value that may be missing. Raises `Unknown`, naming it as *title*."""
    if value is None:
        raise Unknown(f"the {title} is not known")
    return value
