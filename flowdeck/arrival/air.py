"""The air of the day along an arrival: temperature by height, wind by height, and so the speed over the ground."""

from itertools import pairwise
from math import cos, radians, sin, sqrt

from flowdeck.arrival.airspeeds import cas_of_mach, mach_of_cas
from flowdeck.arrival.altimetry import pressure_altitude_ft
from flowdeck.arrival.atmosphere import sound_kt, temperature_c
from flowdeck.arrival.bounds import OutOfRange

LEAST_GROUND_KT = 30.0


class Air:
    """A day's air: *qnh_hpa*, how much warmer than standard (*deviation_c*), winds by altitude (ft, deg true, kt).

    Between two winds their components are taken linearly, beyond the lowest and the highest they stay as they are.
    """

    def __init__(self, qnh_hpa: float, deviation_c: float, winds: tuple[tuple[float, float, float], ...] = ()) -> None:
        self._offset_ft = pressure_altitude_ft(0, qnh_hpa)
        self._deviation_c = deviation_c
        rows = sorted(winds)
        self._winds = tuple((alt, kt * sin(radians(deg)), kt * cos(radians(deg))) for alt, deg, kt in rows)

    @property
    def wind_heights_ft(self) -> tuple[float, ...]:
        """Altitudes (ft) at which the law of the wind changes, rising."""
        return tuple(height for height, _, _ in self._winds)

    def pressure_altitude_ft(self, altitude_ft: float) -> float:
        return altitude_ft + self._offset_ft

    def temperature_c(self, altitude_ft: float) -> float:
        return temperature_c(altitude_ft + self._offset_ft, self._deviation_c)

    def tas_kt(self, cas_kt: float, altitude_ft: float) -> float:
        """True airspeed at a calibrated one. Raises `OutOfRange`."""
        height = altitude_ft + self._offset_ft
        return mach_of_cas(cas_kt, height) * sound_kt(temperature_c(height, self._deviation_c))

    def cas_of_mach(self, mach: float, altitude_ft: float) -> float:
        return cas_of_mach(mach, altitude_ft + self._offset_ft)

    def mach(self, cas_kt: float, altitude_ft: float) -> float:
        return mach_of_cas(cas_kt, altitude_ft + self._offset_ft)

    def wind(self, altitude_ft: float) -> tuple[float, float]:
        """Where the wind blows from, as its parts to the east and to the north (kt)."""
        winds = self._winds
        if not winds:
            return 0.0, 0.0
        if altitude_ft <= winds[0][0]:
            return winds[0][1:]
        for (low, east, north), (high, east_above, north_above) in pairwise(winds):
            if altitude_ft < high:
                share = (altitude_ft - low) / (high - low)
                return east + share * (east_above - east), north + share * (north_above - north)
        return winds[-1][1:]

    def headwind_kt(self, altitude_ft: float, track_true_deg: float) -> float:
        east, north = self.wind(altitude_ft)
        track = radians(track_true_deg)
        return east * sin(track) + north * cos(track)

    def ground_kt(self, tas_kt: float, altitude_ft: float, track_true_deg: float) -> float:
        """Speed over the ground on a track that is kept. Raises `OutOfRange` below 30 kt."""
        east, north = self.wind(altitude_ft)
        track = radians(track_true_deg)
        head, cross = east * sin(track) + north * cos(track), east * cos(track) - north * sin(track)
        along = tas_kt**2 - cross**2
        ground = sqrt(along) - head if along > 0 else 0.0
        if ground < LEAST_GROUND_KT:
            raise OutOfRange(
                f"wind at {altitude_ft:.0f} ft: only {ground:.0f} kt over the ground at {tas_kt:.0f} kt TAS"
            )
        return ground
