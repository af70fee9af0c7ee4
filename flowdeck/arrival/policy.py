"""What an operator decides: values that differ by operator, state or edition, so that none is in the code."""

from msgspec import Struct


class Additive(Struct, frozen=True, kw_only=True):
    """What is added to the reference speed for wind: shares of the steady headwind and of the gust above it.

    *floor_kt* is a least amount, not added on top; *cap_kt* a most. Defaults: common practice, no source.
    """

    head_share: float = 0.5
    gust_share: float = 1.0
    floor_kt: float = 5.0
    cap_kt: float = 20.0


class Gate(Struct, frozen=True, kw_only=True):
    """The stabilised gate: height above the aerodrome (ft), speed from the target (kt), sink at most (ft/min).

    FSF ALAR Briefing Note 7.1 (reproduced) has 1000 ft and 1000 ft/min; the speed window is the operator's.
    """

    height_ft: float = 1000.0
    slow_kt: float = 5.0
    fast_kt: float = 10.0
    sink_fpm: float = 1000.0


class Icing(Struct, frozen=True, kw_only=True):
    """On at or below *on_c* total temperature in visible moisture, off above *off_c* (common practice, no source)."""

    on_c: float = 10.0
    off_c: float = 12.0
    visibility_m: float = 1600.0


class Policy(Struct, frozen=True, kw_only=True):
    """*increment_ft*: added to a non-precision minimum. *margin*: factor on the landing distance of the day.

    *selector_step_ft*, *cold_step_ft*: to which the selected minimum and a corrected minimum are rounded, always up.
    *cold_below_c*: altitudes are corrected at and below it. *head_share*, *tail_share*: of the wind credited.
    *low_ft*, *high_ft*: tolerance of a distance and altitude check. *speed_limit_kt* below *speed_limit_ft*.
    *check_altimeter_ft*: by how much altitude and radio height over known terrain may differ.
    """

    increment_ft: float = 50.0
    additive: Additive = Additive()
    selector_step_ft: float = 100.0
    cold_step_ft: float = 10.0
    cold_below_c: float = 0.0
    margin: float = 1.15
    head_share: float = 0.5
    tail_share: float = 1.5
    gate: Gate = Gate()
    icing: Icing = Icing()
    low_ft: float = 75.0
    high_ft: float = 150.0
    speed_limit_kt: float = 250.0
    speed_limit_ft: float = 10_000.0
    check_altimeter_ft: float = 150.0
    reserve_minutes: float = 30.0
