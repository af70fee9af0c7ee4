"""What must fit together in an arrival file: fixes in their order, constraints that can all be kept, one hold."""

from collections.abc import Callable
from itertools import pairwise

from flowdeck.phasefile.arrivalshapes import ApproachShape, ArrivalShape, FixShape
from flowdeck.phasefile.builder import Spot
from flowdeck.phasefile.words import nearest

Find = Callable[[Spot, str, str], None]
_CONSTRAINTS = ("at_ft", "at_or_above_ft", "at_or_below_ft", "between_ft")


def check(shape: ArrivalShape, spot: Spot, find: Find) -> None:
    """Report every contradiction through *find*."""
    approach = spot / "approach"
    _fixes(shape.approach, approach, find)
    _minima(shape, approach, find)
    rows = shape.approach.table
    for i, (one, next_) in enumerate(pairwise(rows)):
        if next_.distance_nm >= one.distance_nm or next_.altitude_ft >= one.altitude_ft:
            words = "distances and altitudes of the table must both fall from row to row"
            find(approach / "table" / (i + 1), "order", words)
    names = [fix.fix for fix in shape.approach.fixes]
    _winds(shape, spot, find)
    if shape.hold is not None and shape.hold.fix not in names:
        find(spot / "hold" / "fix", "unknown-fix", f"'{shape.hold.fix}' is not a fix{nearest(shape.hold.fix, names)}")
    held_nm = next((fix.distance_nm for fix in shape.approach.fixes if shape.hold and fix.fix == shape.hold.fix), 0.0)
    if shape.start.distance_nm < held_nm:
        words = f"the start at {shape.start.distance_nm:g} NM is nearer than the hold at {held_nm:g} NM"
        find(spot / "start" / "distance_nm", "contradiction", words)
    if shape.start.fuel_kg >= shape.start.mass_kg:
        find(spot / "start" / "fuel_kg", "contradiction", "the fuel weighs more than the aeroplane with it")
    field, threshold = shape.aerodrome.elevation_ft, shape.runway.elevation_ft
    if abs(field - threshold) > 300:
        words = f"the threshold at {threshold:g} ft and the aerodrome at {field:g} ft are more than 300 ft apart"
        find(spot / "runway" / "elevation_ft", "contradiction", words)
    if shape.start.altitude_ft <= field:
        find(spot / "start" / "altitude_ft", "contradiction", f"the start is not above the aerodrome ({field:g} ft)")
    turn = abs((shape.approach.course_deg - shape.runway.course_deg + 180) % 360 - 180)
    if turn > 30:
        words = f"the course is {turn:g} deg off the runway; an approach straight in is within 30"
        find(approach / "course_deg", "contradiction", words)
    report = shape.report
    if report is not None:
        at = spot / "report"
        if report.gust_kt is not None and (report.wind_kt is None or report.gust_kt < report.wind_kt):
            find(at / "gust_kt", "contradiction", "the gust is less than the wind, or there is no wind_kt")
        if (
            report.dew_point_c is not None
            and report.temperature_c is not None
            and report.dew_point_c > report.temperature_c
        ):
            find(at / "dew_point_c", "contradiction", "the dew point is above the temperature")
    if shape.policy.icing.off_c < shape.policy.icing.on_c:
        find(spot / "policy" / "icing" / "off_c", "contradiction", "off_c is below on_c; the item would come and go")
    if shape.policy.additive.floor_kt > shape.policy.additive.cap_kt:
        find(spot / "policy" / "additive" / "floor_kt", "contradiction", "floor_kt is above cap_kt")


def _winds(shape: ArrivalShape, spot: Spot, find: Find) -> None:
    seen: set[float] = set()
    for i, wind in enumerate(shape.winds):
        if wind.altitude_ft in seen:
            words = f"a wind at {wind.altitude_ft:g} ft stands here twice; keep one"
            find(spot / "winds" / i / "altitude_ft", "contradiction", words)
        seen.add(wind.altitude_ft)


def _fixes(shape: ApproachShape, spot: Spot, find: Find) -> None:
    names: dict[str, int] = {}
    for i, fix in enumerate(shape.fixes):
        at = spot / "fixes" / i
        if fix.fix in names:
            find(at / "fix", "duplicate-id", f"'{fix.fix}' stands here twice; keep one")
        names.setdefault(fix.fix, i)
        given = [name for name in _CONSTRAINTS if getattr(fix, name) is not None]
        if len(given) > 1:
            find(at, "contradiction", f"the fix '{fix.fix}' has {' and '.join(given)}; give one, or between_ft")
        if fix.between_ft is not None and fix.between_ft[0] >= fix.between_ft[1]:
            words = f"{fix.between_ft[0]:g} is not below {fix.between_ft[1]:g}; the lowest comes first"
            find(at / "between_ft", "contradiction", words)
    for i, (one, next_) in enumerate(pairwise(shape.fixes)):
        at = spot / "fixes" / (i + 1)
        if next_.distance_nm >= one.distance_nm:
            words = f"'{next_.fix}' is not nearer than '{one.fix}' before it; fixes stand in the order flown"
            find(at / "distance_nm", "order", words)
    if shape.final_fix not in names:
        known = nearest(shape.final_fix, names)
        find(spot / "final_fix", "unknown-fix", f"'{shape.final_fix}' is not a fix{known}")
    _climbs(shape.fixes, spot, find)


def _climbs(fixes: list[FixShape], spot: Spot, find: Find) -> None:
    """A fix that asks for more than one before it allowed: nobody climbs on the way down."""
    highest: tuple[float, str] | None = None
    for i, fix in enumerate(fixes):
        low, high = bounds_of(fix)
        if highest is not None and low is not None and low > highest[0]:
            words = (
                f"'{fix.fix}' asks for {low:g} ft or more after '{highest[1]}' allows no more than {highest[0]:g} ft"
            )
            find(spot / "fixes" / i, "contradiction", words)
        if high is not None and (highest is None or high < highest[0]):
            highest = (high, fix.fix)


def bounds_of(fix: FixShape) -> tuple[float | None, float | None]:
    """Lowest and highest altitude that a fix allows."""
    if fix.at_ft is not None:
        return fix.at_ft, fix.at_ft
    if fix.between_ft is not None:
        return fix.between_ft[0], fix.between_ft[1]
    return fix.at_or_above_ft, fix.at_or_below_ft


def _minima(shape: ArrivalShape, spot: Spot, find: Find) -> None:
    seen: set[str] = set()
    field = shape.aerodrome.elevation_ft
    for i, row in enumerate(shape.approach.minima):
        at = spot / "minima" / i
        if row.category in seen:
            find(at / "category", "duplicate-id", f"category {row.category} stands here twice; keep one")
        seen.add(row.category)
        if row.altitude_ft <= field:
            find(at / "altitude_ft", "contradiction", f"a minimum of {row.altitude_ft:g} ft is not above the aerodrome")
        if row.altitude_ft >= shape.approach.missed.altitude_ft:
            words = f"a minimum of {row.altitude_ft:g} ft is not below the missed-approach altitude"
            find(at / "altitude_ft", "contradiction", words)
