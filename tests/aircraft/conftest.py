"""An aeroplane put where a test wants it, with the small scenario's aerodrome (elevation 430 ft, 3 degree path)."""

from collections.abc import Callable, Iterator

import pytest
from msgspec.structs import replace

from flowdeck.aircraft.motion import move, path_ft
from flowdeck.aircraft.state import Aeroplane, begin
from flowdeck.model.condition import Scalar
from flowdeck.model.scenario import Scenario
from flowdeck.model.session import Session
from tests.support.small import small_deck, small_scenario

DECK = small_deck()
SCENARIO = small_scenario(DECK)
INBOUND = Session(phase="approach")

Fly = Callable[..., Iterator[Aeroplane]]


def aeroplane(
    controls: dict[str, Scalar] | None = None, around: dict[str, Scalar] | None = None, **at: object
) -> Aeroplane:
    """The small scenario's aeroplane with controls, surroundings and fields exchanged."""
    plane = begin(SCENARIO)
    return replace(
        plane, controls={**plane.controls, **(controls or {})}, around={**plane.around, **(around or {})}, **at
    )


def on_path(distance_nm: float, ias_kt: float, **controls: Scalar) -> Aeroplane:
    """Configured and on the final path, nothing selected that would level it off."""
    usual: dict[str, Scalar] = {
        "vertical_mode": "path",
        "selected_altitude_ft": 0.0,
        "selected_speed_kt": ias_kt,
        "flap_deg": 31.0,
        "gear": "down",
    }
    height = path_ft(SCENARIO, distance_nm)
    return aeroplane(
        {**usual, **controls}, distance_nm=distance_nm, ias_kt=ias_kt, altitude_ft=height, groundspeed_kt=ias_kt
    )


def flown(
    plane: Aeroplane, seconds: float, session: Session = INBOUND, scenario: Scenario = SCENARIO
) -> Iterator[Aeroplane]:
    """The aeroplane at each second from now on."""
    for second in range(1, round(seconds) + 1):
        yield move(plane, scenario, session, plane.at + second * 1000)


def after(plane: Aeroplane, seconds: float, session: Session = INBOUND) -> Aeroplane:
    return move(plane, SCENARIO, session, plane.at + round(seconds * 1000))


@pytest.fixture
def landed() -> Aeroplane:
    """Rolling on the runway at 130 kt, all put out that slows it."""
    return aeroplane(
        {"spoilers": "deployed", "reverse": "full", "autobrake": "medium", "gear": "down", "flap_deg": 31.0},
        on_ground=True,
        altitude_ft=430.0,
        distance_nm=0.0,
        groundspeed_kt=130.0,
        ias_kt=130.0,
        rolled_m=450.0,
    )
