"""Where in its files a thing of a deck was written, for findings that are made after it was built."""

from collections.abc import Mapping

from flowdeck.model.diagnostic import Place
from flowdeck.phasefile.builder import Spot

_NAMING = ("item", "line", "hold", "call", "standing", "checklist", "gate", "flow", "phase")


class Places:
    """*ids*: the spot of each name; *rows*: that of the first text of each condition; *deck*: that of deck.yaml."""

    def __init__(self, ids: Mapping[str, Spot], rows: Mapping[int, Spot], deck: Spot) -> None:
        self._ids, self._rows, self.deck = ids, rows, deck

    def of(self, ref: str, *fields: str | int) -> Place:
        """Of the thing *ref*, or of a field in it; that of the thing where the field is not written out."""
        spot = self._ids.get(ref)
        if spot is None:
            return self.in_deck(*fields)
        if not fields:
            return spot.place
        for part in fields:
            deeper = _table(spot) / part
            if deeper.path not in deeper.located:
                return spot.place
            spot = deeper
        return spot.place

    def in_deck(self, *fields: str | int) -> Place:
        """Of a field of deck.yaml, by its key."""
        spot = self.deck
        for part in fields:
            spot = spot / part
        return spot.key.place if fields else spot.place

    def of_condition(self, row: int) -> Place | None:
        """Where the text of a condition stands first; None for a part of another."""
        spot = self._rows.get(row)
        return None if spot is None else spot.place


def _table(spot: Spot) -> Spot:
    """The table that a name stands in: the name of an item leads to the item."""
    if spot.path and spot.path[-1] in _NAMING:
        return Spot(spot.located, spot.path[:-1])
    return Spot(spot.located, spot.path)
