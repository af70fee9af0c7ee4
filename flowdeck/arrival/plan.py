"""An arrival: all that is known before the approach, as one frozen value."""

from msgspec import Struct

from flowdeck.arrival.performance import Aircraft
from flowdeck.arrival.policy import Policy
from flowdeck.arrival.procedure import Aerodrome, Approach, Runway
from flowdeck.arrival.weather import Weather


class Wind(Struct, frozen=True):
    """Wind at an altitude: from where (true), how strong."""

    altitude_ft: float
    from_deg: float
    kt: float


class Start(Struct, frozen=True, kw_only=True):
    """Where the flight is now. *distance_nm* along the way to the threshold."""

    distance_nm: float
    altitude_ft: float
    speed_kt: float
    mass_kg: float
    fuel_kg: float


class Hold(Struct, frozen=True, kw_only=True):
    """Laps of a holding pattern, flown first. *leg_min*: minutes outbound; None: by altitude."""

    fix: str
    laps: int
    speed_kt: float
    altitude_ft: float
    leg_min: float | None = None


class Arrival(Struct, frozen=True, kw_only=True):
    """*winds* aloft, lowest first. *alternate_kg*: fuel from here to the alternate, without its final reserve.

    *hash* is of the files it was read from, empty when it was not read from any.
    """

    id: str
    title: str
    about: str = ""
    version: str = "1"
    status: str = "draft"
    hash: str = ""
    aerodrome: Aerodrome
    runway: Runway
    approach: Approach
    weather: Weather
    winds: tuple[Wind, ...] = ()
    aircraft: Aircraft
    start: Start
    hold: Hold | None = None
    alternate: str = ""
    alternate_kg: float
    policy: Policy = Policy()
