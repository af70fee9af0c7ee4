"""Who sits where and who flies.

The law: each seat holds one role at every moment, never neither, so the session stores only *which
seat flies* and derives the rest.
"""

from enum import StrEnum
from typing import assert_never


class Seat(StrEnum):
    CAPTAIN = "captain"
    FIRST_OFFICER = "first_officer"

    @property
    def other(self) -> "Seat":
        return Seat.FIRST_OFFICER if self is Seat.CAPTAIN else Seat.CAPTAIN

    @property
    def label(self) -> str:
        return "Captain" if self is Seat.CAPTAIN else "First officer"


class Owner(StrEnum):
    """Who owes an item: a seat, a role (whoever holds it now), both pilots, or either of them."""

    CAPTAIN = "captain"
    FIRST_OFFICER = "first_officer"
    PILOT_FLYING = "pilot_flying"
    PILOT_MONITORING = "pilot_monitoring"
    BOTH = "both"
    EITHER = "either"

    def seats(self, flying: Seat) -> tuple[Seat, ...]:
        """The seats that may answer for this owner while *flying* flies, the first one preferred."""
        match self:
            case Owner.CAPTAIN:
                return (Seat.CAPTAIN,)
            case Owner.FIRST_OFFICER:
                return (Seat.FIRST_OFFICER,)
            case Owner.PILOT_FLYING:
                return (flying,)
            case Owner.PILOT_MONITORING:
                return (flying.other,)
            case Owner.BOTH:
                return (flying, flying.other)
            case Owner.EITHER:
                return (flying, flying.other)
            case _:
                assert_never(self)
