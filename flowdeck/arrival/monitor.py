"""A flight watched against its brief: what follows from the readings and the plan, at one moment.

The law: every figure is worked out from what is shown to the crew, never from what only the simulation knows; a
reading that is missing leaves what rests on it unknown (None). Distance and altitude alone cannot show a wrong
pressure setting, since table and altimeter shift together: only `altimeter_error_ft` can, where the terrain is known.
"""

from collections.abc import Mapping
from typing import TypeAlias

from flowdeck.arrival.altimetry import HIGHEST_FT, cold_correction_ft
from flowdeck.arrival.bounds import OutOfRange
from flowdeck.arrival.brief import Brief
from flowdeck.arrival.descent import gradient_ft_per_nm, path_altitude_ft, rate_fpm
from flowdeck.arrival.minima import cold_ft
from flowdeck.arrival.performance import Flap
from flowdeck.arrival.procedure import Fix
from flowdeck.arrival.speeds import minimum_kt

Reading: TypeAlias = float | bool | str | None
_LEAST_GROUND_KT = 30.0
_SPARE_S = 4.0
"""Seconds that the slowing down should end before the gate (our proposal)."""


class Watch:
    """Made once for a brief; `signals` is asked at every sample."""

    def __init__(self, brief: Brief) -> None:
        arrival = brief.arrival
        self._arrival = arrival
        self._profile = brief.profile
        self._approach_kt = brief.planned.get("planned_approach_kt")
        self._air_c = arrival.weather.temperature_c
        self._fixes = sorted(arrival.approach.fixes, key=lambda fix: -fix.distance_nm)
        above = arrival.aerodrome.elevation_ft + arrival.policy.gate.height_ft - arrival.runway.elevation_ft
        self._gate_nm = (above - arrival.approach.crossing_ft) / gradient_ft_per_nm(arrival.approach.angle_deg)
        mass = brief.planned.get("planned_landing_mass_kg", arrival.aircraft.reference_kg)
        self._least = {flap.flap_deg: minimum_kt(arrival.aircraft, flap, mass) for flap in arrival.aircraft.flaps}

    def path_ft(self, distance_nm: float) -> float:
        """Altitude that the altimeter should show on the final path, corrected for cold as far as the table goes."""
        approach, runway = self._arrival.approach, self._arrival.runway
        bounded = min(max(0.0, distance_nm), 100.0)
        altitude = path_altitude_ft(bounded, approach.angle_deg, runway.elevation_ft, approach.crossing_ft)
        return altitude + (self._cold_ft(altitude) or 0.0)

    def _cold_ft(self, altitude_ft: float) -> float | None:
        """What cold adds to an altitude; None where it is cold and the correction has no figure so high or so cold."""
        if self._air_c is None:
            return 0.0
        try:
            return cold_ft(altitude_ft, self._arrival.aerodrome, self._air_c, self._arrival.policy)
        except OutOfRange:
            return None

    def _cold_shift_ft(self, shown: Mapping[str, Reading]) -> float | None:
        """What cold alone makes the altimeter show too much at this radio height: not rounded, no wrong setting.

        None where it is colder than the correction goes.
        """
        radio, elevation = _number(shown, "radio_height_ft"), self._arrival.aerodrome.elevation_ft
        if self._air_c is None or radio is None or self._air_c > self._arrival.policy.cold_below_c:
            return 0.0
        try:
            return cold_correction_ft(min(max(0.0, radio), HIGHEST_FT), self._air_c, elevation)
        except OutOfRange:
            return None

    def planned_ft(self, distance_nm: float) -> float | None:
        """Altitude of the whole plan at a distance, level before the descent; None without a path.

        None also where cold has no correction: without it the plan is not what the altimeter shows.
        """
        if self._profile is None or distance_nm < 0:
            return None
        altitude = self._profile.at(distance_nm).altitude_ft
        cold = self._cold_ft(altitude)
        return None if cold is None else altitude + cold

    def signals(self, shown: Mapping[str, Reading]) -> dict[str, Reading]:
        """The derived signals; None for what cannot be told now."""
        distance, altitude = _number(shown, "distance_nm"), _number(shown, "altitude_ft")
        speed = _number(shown, "ias_kt")
        if shown.get("on_ground") is True:
            return dict.fromkeys(DERIVED)
        found: dict[str, Reading] = dict.fromkeys(DERIVED)
        error, shift = altimeter_error_ft(shown), self._cold_shift_ft(shown)
        if error is not None and shift is not None:
            found["altimeter_error_ft"] = error - shift
        if speed is not None:
            found.update(self._margins(shown, speed))
        if distance is None or altitude is None:
            return found
        planned = self.planned_ft(distance)
        found["planned_altitude_ft"] = planned
        found["height_above_path_ft"] = None if planned is None else altitude - planned
        found.update(self._next_fix(shown, distance, altitude))
        found.update(self._gate(shown, distance, speed))
        return found

    def _margins(self, shown: Mapping[str, Reading], speed: float) -> dict[str, Reading]:
        """To the minimum of the flap that is out, and to the limit of the largest that is out or moving."""
        degrees = _number(shown, "flap_deg")
        if degrees is None:
            return {}
        flaps = self._arrival.aircraft.flaps
        out = next((flap for flap in reversed(flaps) if flap.flap_deg <= degrees + 0.01), flaps[0])
        larger: Flap = next((flap for flap in flaps if flap.flap_deg >= degrees - 0.01), flaps[-1])
        limit = larger.limit_kt
        return {
            "flap_margin_kt": speed - self._least[out.flap_deg],
            "limit_margin_kt": None if limit is None else limit - speed,
        }

    def _next_fix(self, shown: Mapping[str, Reading], distance: float, altitude: float) -> dict[str, Reading]:
        """The next fix that asks for an altitude: how far, what will be shown there, and by how much it is missed.

        The rate is the one to what it asks, or to the plan there where it asks for no less.
        """
        fix = next((f for f in self._fixes if f.distance_nm < distance and f.asks), None)
        ground, sink = _number(shown, "groundspeed_kt"), _number(shown, "vertical_speed_fpm")
        if fix is None or ground is None or sink is None or ground < _LEAST_GROUND_KT:
            return {}
        to_go = distance - fix.distance_nm
        minutes = to_go / ground * 60
        there = altitude + sink * minutes
        low, high = self._asked(fix)
        if low is None and high is None:
            return {"next_fix_nm": to_go, "next_fix_ft": there}
        wanted = self.planned_ft(fix.distance_nm)
        if high is not None and altitude > high:
            wanted = high
        elif low is not None and altitude < low:
            wanted = low
        missed = 0.0
        if high is not None and there > high:
            missed = there - high
        elif low is not None and there < low:
            missed = there - low
        return {
            "next_fix_nm": to_go,
            "next_fix_ft": there,
            "next_fix_miss_ft": missed,
            "required_rate_fpm": None if wanted is None or minutes < 0.02 else (wanted - altitude) / minutes,
        }

    @property
    def top_nm(self) -> float | None:
        """Where the descent begins; None without a path."""
        return None if self._profile is None else self._profile.top.distance_nm

    @property
    def altimeter_tolerance_ft(self) -> float:
        """By how much altimeter and radio height may differ before it is called."""
        return self._arrival.policy.check_altimeter_ft

    def asked(self) -> tuple[tuple[Fix, float | None, float | None], ...]:
        """Each fix with the lowest and highest altitude to be shown there, in the order flown."""
        return tuple((fix, *self._asked(fix)) for fix in self._fixes)

    def _asked(self, fix: Fix) -> tuple[float | None, float | None]:
        """Lowest and highest altitude to be shown at a fix, both corrected for cold; None where that has no figure."""
        return self._shown_ft(fix.at_least_ft), self._shown_ft(fix.at_most_ft)

    def _shown_ft(self, altitude_ft: float | None) -> float | None:
        cold = None if altitude_ft is None else self._cold_ft(altitude_ft)
        return None if altitude_ft is None or cold is None else altitude_ft + cold

    def _gate(self, shown: Mapping[str, Reading], distance: float, speed: float | None) -> dict[str, Reading]:
        """At the gate, flown on along the path: seconds to it, the speed there, and whether it will be stable.

        Taken for granted: what is left of flap and gear comes as soon as the speed allows. The height error is that
        of now: above or below the path beyond the tolerance, the gate will not be met.
        """
        gate, policy = self._arrival.policy.gate, self._arrival.policy
        ground, altitude = _number(shown, "groundspeed_kt"), _number(shown, "altitude_ft")
        degrees, ready = _number(shown, "flap_deg"), self._approach_kt
        if ground is None or altitude is None or speed is None or degrees is None or ready is None:
            return {}
        if distance < self._arrival.approach.final.distance_nm and self.planned_ft(distance) is None:
            return {}
        if distance <= self._gate_nm or min(ground, speed) < _LEAST_GROUND_KT:
            return {}
        seconds = (distance - self._gate_nm) / ground * 3600
        there, needed = self._slowed(speed, degrees, shown.get("gear") == "down", seconds, ready)
        sink = rate_fpm(self._arrival.approach.angle_deg, min(400.0, ground * there / speed))
        off = altitude - self.path_ft(distance) if distance < self._arrival.approach.final.distance_nm else 0.0
        return {
            "gate_in_s": seconds,
            "gate_speed_kt": there,
            "gate_stable": ready - gate.slow_kt <= there <= ready + gate.fast_kt
            and needed + _SPARE_S <= seconds
            and sink <= gate.sink_fpm
            and -policy.low_ft <= off <= policy.high_ft,
        }

    def _slowed(self, speed: float, degrees: float, gear: bool, seconds: float, target: float) -> tuple[float, float]:
        """The speed after *seconds* of slowing down, each further step as soon as it may; and the time to *target*."""
        steps = self._arrival.aircraft.steps
        reached = [i for i, s in enumerate(steps) if s.flap_deg <= degrees + 0.01 and (gear or s.gear == "up")]
        now = max(reached, default=0)
        left, taken, there = speed, 0.0, speed
        for step in steps[now:]:
            goal = max(target, step.speed_kt or target)
            spent = max(0.0, left - goal) / step.descending_kt_s
            if taken < seconds:
                there = left - min(spent, seconds - taken) * step.descending_kt_s
            taken += spent
            left = min(left, goal)
        return max(there, min(speed, target)), taken


DERIVED = (
    "planned_altitude_ft",
    "height_above_path_ft",
    "required_rate_fpm",
    "next_fix_nm",
    "next_fix_ft",
    "next_fix_miss_ft",
    "gate_in_s",
    "gate_speed_kt",
    "gate_stable",
    "flap_margin_kt",
    "limit_margin_kt",
    "altimeter_error_ft",
)
"""The signals that a watch derives."""


def altimeter_error_ft(shown: Mapping[str, Reading]) -> float | None:
    """Altitude less terrain and radio height (ft): the one check that does not rest on the pressure setting.

    None while the radio height is silent or the terrain below is not known. On a cold day it has the cold's own
    error in it; a watch, which knows the temperature, takes that out.
    """
    altitude, radio = _number(shown, "altitude_ft"), _number(shown, "radio_height_ft")
    terrain = _number(shown, "terrain_height_ft")
    if altitude is None or radio is None or terrain is None:
        return None
    return altitude - terrain - radio


def _number(shown: Mapping[str, Reading], name: str) -> float | None:
    value = shown.get(name)
    return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else None
