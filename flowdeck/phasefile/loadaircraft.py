"""An aircraft file's text to its tables, or to all that is wrong with it."""

from itertools import pairwise

from flowdeck.arrival.performance import (
    Aircraft,
    Burn,
    Corrections,
    Descent,
    Flap,
    Limits,
    Step,
    Stopping,
)
from flowdeck.arrival.tables import Table
from flowdeck.model.diagnostic import Diagnostic, Rejected, visible
from flowdeck.phasefile.aircraftshapes import AircraftShape
from flowdeck.phasefile.builder import Spot
from flowdeck.phasefile.read import read
from flowdeck.phasefile.validate import guess


def load_aircraft(file: str, raw: bytes) -> Aircraft:
    """Build an aircraft from its file. Raises `Rejected` with all findings."""
    located, shape, wrong, *_ = guess(read(file, raw), AircraftShape)
    if shape is None:
        raise Rejected(wrong)
    findings = list(wrong)
    _check(shape, Spot(located), findings)
    if findings:
        raise Rejected(tuple(sorted(set(findings), key=lambda f: (f.place, f.message))))
    return Aircraft(
        type=shape.aircraft,
        flaps=tuple(Flap(**flap.model_dump()) for flap in shape.flaps),
        reference=Table("landing mass", "kg", tuple((row.mass_kg, row.speed_kt) for row in shape.reference)),
        reference_kg=shape.reference_mass_kg,
        steps=tuple(Step(**step.model_dump()) for step in shape.steps),
        descent=Descent(**shape.descent.model_dump()),
        burn=Burn(**shape.burn.model_dump()),
        limits=Limits(**shape.limits.model_dump()),
        brakes=tuple(shape.brakes),
        stopping=tuple(
            Stopping(
                flap_deg=s.flap_deg,
                surface=s.surface,
                brake=s.brake,
                by_mass=Table("landing mass", "kg", tuple(zip(s.mass_kg, s.distance_m, strict=True))),
            )
            for s in shape.stopping
        ),
        corrections=Corrections(**shape.corrections.model_dump()),
    )


def _check(shape: AircraftShape, spot: Spot, findings: list[Diagnostic]) -> None:
    def find(at: Spot, kind: str, message: str) -> None:
        findings.append(Diagnostic(place=at.place, kind=kind, message=visible(message)))

    degrees = [flap.flap_deg for flap in shape.flaps]
    for i, (before, after) in enumerate(pairwise(shape.flaps)):
        at = spot / "flaps" / (i + 1)
        if after.flap_deg <= before.flap_deg:
            find(
                at,
                "order",
                f"flap {after.flap_deg:g} after flap {before.flap_deg:g}; begin clean, end with landing flap",
            )
        if after.minimum_kt >= before.minimum_kt:
            find(
                at, "order", f"more flap must fly slower: {after.minimum_kt:g} kt is not below {before.minimum_kt:g} kt"
            )
    for i, flap in enumerate(shape.flaps):
        if flap.limit_kt is not None and flap.limit_kt <= flap.minimum_kt:
            words = f"limit {flap.limit_kt:g} kt is not above the minimum of {flap.minimum_kt:g} kt"
            find(spot / "flaps" / i, "contradiction", f"flap {flap.flap_deg:g}: {words}")
    for i, (light, heavy) in enumerate(pairwise(shape.reference)):
        if heavy.mass_kg <= light.mass_kg:
            find(spot / "reference" / (i + 1), "order", "masses must rise from row to row")
    for i, step in enumerate(shape.steps):
        at = spot / "steps" / i
        last = i == len(shape.steps) - 1
        if step.flap_deg not in degrees:
            find(
                at / "flap_deg",
                "unknown-flap",
                f"flap {step.flap_deg:g} is none of: {', '.join(f'{d:g}' for d in degrees)}",
            )
        if step.descending_kt_s >= step.level_kt_s:
            words = f"{step.descending_kt_s:g} kt/s going down is not less than {step.level_kt_s:g} kt/s level"
            find(at / "descending_kt_s", "contradiction", words)
        if step.speed_kt is None and not last:
            find(at, "missing", "only the last step is flown at the approach speed; add speed_kt: ...")
        if step.speed_kt is not None and last:
            find(at / "speed_kt", "contradiction", "the last step is flown at the approach speed; remove speed_kt")
    for i, (one, next_) in enumerate(pairwise(shape.steps)):
        at = spot / "steps" / (i + 1)
        if next_.speed_kt is not None and one.speed_kt is not None and next_.speed_kt > one.speed_kt:
            find(
                at / "speed_kt", "order", f"{next_.speed_kt:g} kt is faster than the step before ({one.speed_kt:g} kt)"
            )
        if next_.by_nm > one.by_nm and i > 0:
            find(at / "by_nm", "order", f"{next_.by_nm:g} NM is farther out than the step before ({one.by_nm:g} NM)")
        if next_.flap_deg < one.flap_deg or (one.gear == "down" and next_.gear == "up"):
            find(at, "order", "flap and gear only go out on the way down")
    if shape.steps[-1].flap_deg != degrees[-1] or shape.steps[-1].gear != "down":
        find(
            spot / "steps" / (len(shape.steps) - 1),
            "contradiction",
            "the last step is for landing: gear down, landing flap",
        )
    for i, table in enumerate(shape.stopping):
        at = spot / "stopping" / i
        if len(table.mass_kg) != len(table.distance_m):
            count = f"{len(table.mass_kg)} masses and {len(table.distance_m)} distances"
            find(at, "contradiction", f"{count}; give one distance for each mass")
        if any(b <= a for a, b in pairwise(table.mass_kg)):
            find(at / "mass_kg", "order", "masses must rise")
        if any(b < a for a, b in pairwise(table.distance_m)):
            find(at / "distance_m", "order", "a heavier aeroplane does not stop shorter; distances must not fall")
        if table.brake not in shape.brakes:
            find(at / "brake", "unknown-brake", f"'{table.brake}' is none of: {', '.join(shape.brakes)}")
        if table.flap_deg not in degrees:
            find(at / "flap_deg", "unknown-flap", f"flap {table.flap_deg:g} is none of the flaps")
