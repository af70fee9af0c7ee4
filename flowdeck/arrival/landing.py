"""Landing distances and their factors. Which factor holds is the operator's rule; none is a default here."""

from flowdeck.arrival.bounds import rounded_up, within

DISPATCH_JET = 1 / 0.6
"""A full stop within 60 % of what is available: 14 CFR 121.195(b), CAT.POL.A.230."""
DISPATCH_TURBOPROP = 1 / 0.7
"""Within 70 %: 14 CFR 135.395, CAT.POL.A.230."""
DISPATCH_APPROVED = 1 / 0.8
"""Within 80 %, with an approval: CAT.POL.A.255, GM2 to .230."""
WET = 1.15
"""On the dry distance where there is no wet data: CAT.POL.A.235, GM2 to .230."""
ARRIVAL_MARGIN = 1.15
"""On a distance worked out at the time of arrival: FAA SAFO 06012, reproduced."""


def required_m(distance_m: float, *factors: float) -> float:
    """Distance (m) times its factors, rounded up to the metre at the end. Factors below 1 are refused."""
    needed = within("landing distance", distance_m, "m", 1, 10_000)
    for factor in factors:
        needed *= within("factor", factor, "", 1, 5)
    return rounded_up(needed, 1.0)


def margin_m(available_m: float, needed_m: float) -> float:
    """What is left of the runway (m); negative when it is too short."""
    return within("landing distance available", available_m, "m", 1, 10_000) - needed_m
