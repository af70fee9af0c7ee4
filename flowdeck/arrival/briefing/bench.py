"""The bench on which a brief is worked out. Local to one call of `make_brief`."""

from flowdeck.arrival.air import Air
from flowdeck.arrival.plan import Arrival
from flowdeck.arrival.profile import Profile
from flowdeck.arrival.sheet import Sheet
from flowdeck.arrival.speeds import Wind


class Bench:
    """An arrival, its sheet, and what later parts need of earlier ones (None: not known)."""

    def __init__(self, arrival: Arrival) -> None:
        self.arrival = arrival
        self.sheet = Sheet()
        self.wind: Wind | None = None
        self.air: Air | None = None
        self.profile: Profile | None = None
        self.mass_kg: float | None = None
        self.approach_kt: int | None = None

    @property
    def course_true_deg(self) -> float:
        return (self.arrival.runway.course_deg + self.arrival.aerodrome.variation_deg) % 360
