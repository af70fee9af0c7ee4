"""The altitude at which a go-around begins, and what the altitude selector is given. All in ft; rounded up only."""

from msgspec import Struct

from flowdeck.arrival.altimetry import cold_correction_ft
from flowdeck.arrival.bounds import rounded_up
from flowdeck.arrival.category import Category, category
from flowdeck.arrival.policy import Policy
from flowdeck.arrival.procedure import Aerodrome, Approach


class Minimum(Struct, frozen=True, kw_only=True):
    """*decided_ft*: where the go-around begins, never below *published_ft*. *selector_ft*: for the selector."""

    published_ft: float
    increment_ft: float
    cold_ft: float
    decided_ft: float
    selector_ft: float


def category_of_the_day(certified_kt: float, approach_kt: float) -> Category:
    """That of the aeroplane, or a higher one when it is flown faster (FAA AIM 5-4-7: minima of the higher one hold).

    *certified_kt*: the reference speed at maximum landing mass.
    """
    return max(category(certified_kt), category(approach_kt))


def minimum(approach: Approach, aerodrome: Aerodrome, of: Category, air_c: float, policy: Policy) -> Minimum:
    """The minimum of a category. Raises `KeyError` when none is published, `OutOfRange` beyond the correction's range.

    The increment is the operator's (AMC1 CAT.OP.MPA.115, read) and not for a precision approach, whose decision
    begins the go-around at the minimum itself.
    """
    published = approach.minima[of]
    increment = policy.increment_ft if approach.kind == "non_precision" else 0.0
    cold = cold_ft(published, aerodrome, air_c, policy)
    decided = max(published, rounded_up(published + increment + cold, policy.cold_step_ft if cold else 1.0))
    return Minimum(
        published_ft=published,
        increment_ft=increment,
        cold_ft=cold,
        decided_ft=decided,
        selector_ft=rounded_up(decided, policy.selector_step_ft),
    )


def cold_ft(altitude_ft: float, aerodrome: Aerodrome, air_c: float, policy: Policy) -> float:
    """What cold adds to a published altitude, rounded up to the policy's step; 0 where the policy needs none."""
    return rounded_up(exact_cold_ft(altitude_ft, aerodrome, air_c, policy), policy.cold_step_ft)


def exact_cold_ft(altitude_ft: float, aerodrome: Aerodrome, air_c: float, policy: Policy) -> float:
    """The same, not rounded."""
    if air_c > policy.cold_below_c or altitude_ft <= aerodrome.elevation_ft:
        return 0.0
    height = altitude_ft - aerodrome.elevation_ft
    return cold_correction_ft(height, air_c, aerodrome.elevation_ft)
