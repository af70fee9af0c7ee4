"""What is wrong with one condition, before it is known in which file it stands."""

from collections.abc import Iterable

from msgspec import Struct

from flowdeck.model.diagnostic import Diagnostic, Level, Place
from flowdeck.model.likeness import near

_SHOWN = 60
_NOWHERE = Place("(condition)")


class Fault(Struct, frozen=True, kw_only=True):
    """One finding; *offset* counts characters from the start of the condition's text."""

    kind: str
    message: str
    offset: int = 0
    level: Level = Level.ERROR

    def located(self, text: str, place: Place | None) -> Diagnostic:
        """This fault as a diagnostic; *place* is where *text* begins (best effort in text of several lines)."""
        start = place or _NOWHERE
        shift = 0 if "\n" in text[: self.offset] else self.offset
        where = Place(start.file, start.line, start.column + shift)
        return Diagnostic(place=where, kind=self.kind, message=self.message, level=self.level)


def quoted(word: str) -> str:
    """*word* in quotes, cut short, with control characters made visible."""
    return repr(word if len(word) <= _SHOWN else word[: _SHOWN - 3] + "...")


def meant(word: str, known: Iterable[str]) -> str:
    """`; did you mean 'x'?`, or nothing when no known word is alike."""
    found = near(word, known)
    return "" if found is None else f"; did you mean {quoted(found)}?"


def listed(words: Iterable[str]) -> str:
    """`'a', 'b' or 'c'`, at most twelve of them."""
    shown = [quoted(word) for word in words]
    if len(shown) > 12:
        return ", ".join(shown[:12]) + " ..."
    return " or ".join([", ".join(shown[:-1]), shown[-1]]) if len(shown) > 1 else "".join(shown)
