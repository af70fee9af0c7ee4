"""From where a flight is looked at: which seats are the onlooker's own, and who sits in the others."""

from msgspec import Struct

from flowdeck.model.seats import Seat

PLAYED, JOINED, ABSENT, CUT_OFF = "played", "joined", "not joined", "cut off"
"""Who has a seat: the tool, a guest, nobody, a guest whose link is lost."""


class Vantage(Struct, frozen=True, kw_only=True):
    """*own*: the seats whose keys are here; none for who only watches. *hands*: who has another seat, in words."""

    own: tuple[Seat, ...] = (Seat.CAPTAIN, Seat.FIRST_OFFICER)
    hands: dict[Seat, str] = {}

    @property
    def order(self) -> tuple[Seat, Seat]:
        """The lanes from left to right: as they sit, but a pilot's own seat first."""
        if self.own == (Seat.FIRST_OFFICER,):
            return (Seat.FIRST_OFFICER, Seat.CAPTAIN)
        return (Seat.CAPTAIN, Seat.FIRST_OFFICER)

    def is_foreign(self, seat: Seat) -> bool:
        """Whether what that seat is to do next is its own affair. Who sits nowhere looks over both shoulders."""
        return bool(self.own) and seat not in self.own

    def heading(self, seat: Seat, role: str) -> str:
        """As `Captain, flying`, with who sits there if it is somebody else."""
        hands = self.hands.get(seat, "") if seat not in self.own else ""
        return f"{seat.label}, {role}{f' ({hands})' if hands else ''}"


BOTH_SEATS = Vantage()
