"""Fuel and mass at the landing: what the path, the hold and the way to it burn, and how long one can wait."""

from msgspec import Struct

from flowdeck.arrival.air import Air
from flowdeck.arrival.holding import lap_min
from flowdeck.arrival.performance import Burn
from flowdeck.arrival.plan import Arrival, Hold
from flowdeck.arrival.profile import Leg, Profile
from flowdeck.arrival.turns import rate_deg_s


class Fuel(Struct, frozen=True, kw_only=True):
    """All kg, times min. *path_kg*: from here to the landing without holding. *leave_kg*: with this the hold ends.

    *left_min*: how long it can be held before the reserves are touched, after the laps planned; negative when they
    would be.
    """

    path_kg: float
    hold_kg: float
    hold_min: float
    landing_kg: float
    mass_kg: float
    reserve_kg: float
    leave_kg: float
    left_min: float
    minutes: float


def fuel_of(arrival: Arrival, profile: Profile, air: Air) -> Fuel:
    """The fuel of an arrival by its path; what lies before the top of descent is flown at the start's speed."""
    burn = arrival.aircraft.burn
    here = arrival.start.distance_nm
    stretches = [(leg, _seconds(profile, leg, here)) for leg in profile.legs]
    path = sum(_flow_kgh(burn, leg) * seconds / 3600 for leg, seconds in stretches)
    minutes = sum(seconds for _, seconds in stretches) / 60
    before = here - profile.top.distance_nm
    if before > 0:
        ground = air.ground_kt(
            air.tas_kt(arrival.start.speed_kt, arrival.start.altitude_ft), arrival.start.altitude_ft, _track(profile)
        )
        path += burn.cruise_kgh * before / ground
        minutes += before / ground * 60
    held = hold_min(arrival, air)
    hold = burn.hold_kgh * held / 60
    reserve = reserve_kg(arrival)
    landing = arrival.start.fuel_kg - path - hold
    return Fuel(
        path_kg=path,
        hold_kg=hold,
        hold_min=held,
        landing_kg=landing,
        mass_kg=arrival.start.mass_kg - path - hold,
        reserve_kg=reserve,
        leave_kg=reserve + path,
        left_min=(landing - reserve) / burn.hold_kgh * 60,
        minutes=minutes + held,
    )


def reserve_kg(arrival: Arrival) -> float:
    """Fuel to the alternate and the operator's minutes at holding flow."""
    return arrival.alternate_kg + arrival.aircraft.burn.hold_kgh * arrival.policy.reserve_minutes / 60


def hold_min(arrival: Arrival, air: Air) -> float:
    """Minutes of the laps that are planned, in still air."""
    return 0.0 if arrival.hold is None else arrival.hold.laps * lap_of(arrival.hold, air)


def lap_of(hold: Hold, air: Air) -> float:
    """Minutes of one lap: 25 deg of bank or 3 deg/s, whichever needs less (ICAO Doc 8168, reproduced)."""
    rate = rate_deg_s(air.tas_kt(hold.speed_kt, hold.altitude_ft), 25)
    return lap_min(hold.altitude_ft, hold.leg_min, rate)


def _track(profile: Profile) -> float:
    return profile.legs[0].track_deg if profile.legs else 0.0


def _seconds(profile: Profile, leg: Leg, here_nm: float) -> float:
    """How long a leg is still flown from a distance: all of it, part of it, or nothing any more."""
    if leg.near.distance_nm >= here_nm:
        return 0.0
    far = leg.far.seconds if leg.far.distance_nm <= here_nm else profile.at(here_nm).seconds
    return far - leg.near.seconds


def _flow_kgh(burn: Burn, leg: Leg) -> float:
    idle = leg.vertical == "descent" or (leg.speed == "slowing" and leg.vertical == "level")
    return burn.descent_kgh if idle else burn.approach_kgh
