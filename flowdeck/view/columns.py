"""Tables before they are drawn, and how they stand in a terminal; the same for every report."""

from collections.abc import Sequence
from typing import NamedTuple, TypeAlias

Row: TypeAlias = tuple[str, ...]


class Table(NamedTuple):
    """*heads*: one that begins with `<` is of a column of words. *note*: a line below, or empty."""

    title: str
    heads: Row
    rows: Sequence[Row]
    note: str = ""


def in_columns(heads: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> list[str]:
    """Columns as wide as they must be, numbers to the right."""
    shown = [head.lstrip("<") for head in heads]
    widths = [max(len(shown[i]), *(len(row[i]) for row in rows)) if rows else len(shown[i]) for i in range(len(heads))]

    def line(cells: tuple[str, ...] | list[str]) -> str:
        parts = [
            cell.ljust(widths[i]) if heads[i].startswith("<") else cell.rjust(widths[i]) for i, cell in enumerate(cells)
        ]
        return "  " + "  ".join(parts)

    return [line(shown), *(line(row) for row in rows)]
