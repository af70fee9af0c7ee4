"""An arrival file's text to an `Arrival`, or to all that is wrong with it."""

from collections.abc import Callable
from hashlib import sha256
from typing import Any

from flowdeck.arrival.metar import NotAReport, decode
from flowdeck.arrival.performance import Aircraft
from flowdeck.arrival.plan import Arrival, Hold, Start, Wind
from flowdeck.arrival.policy import Additive, Gate, Icing, Policy
from flowdeck.arrival.procedure import Aerodrome, Aid, Approach, Fix, Runway
from flowdeck.arrival.weather import Cloud, Weather
from flowdeck.model.diagnostic import Diagnostic, Rejected, visible
from flowdeck.phasefile.arrivalchecks import check
from flowdeck.phasefile.arrivalshapes import ArrivalShape, FixShape, PolicyShape, ReportShape
from flowdeck.phasefile.builder import Spot
from flowdeck.phasefile.read import read
from flowdeck.phasefile.validate import guess


def aircraft_of(file: str, raw: bytes) -> str:
    """The name of the aircraft file that an arrival is for. Raises `Rejected`."""
    guessed = guess(read(file, raw), ArrivalShape)
    if guessed.shape is None:
        raise Rejected(guessed.findings)
    return guessed.shape.aircraft


def load_arrival(file: str, raw: bytes, aircraft: Aircraft, aircraft_raw: bytes = b"") -> Arrival:
    """Build an arrival from its file and its aircraft. Raises `Rejected` with all findings.

    *aircraft_raw*: what the aircraft was read from, so that the arrival's hash is of both files.
    """
    located, shape, wrong, *_ = guess(read(file, raw), ArrivalShape)
    if shape is None:
        raise Rejected(wrong)
    spot = Spot(located)
    findings = list(wrong)

    def find(at: Spot, kind: str, message: str) -> None:
        findings.append(Diagnostic(place=at.place, kind=kind, message=visible(message)))

    check(shape, spot, find)
    weather = _weather(shape, spot, find)
    if findings or weather is None:
        raise Rejected(tuple(sorted(set(findings), key=lambda f: (f.place, f.message))))
    return _built(shape, aircraft, weather, sha256(raw + b"\0" + aircraft_raw).hexdigest()[:12])


def _built(shape: ArrivalShape, aircraft: Aircraft, weather: Weather, hash_: str) -> Arrival:
    a = shape.approach
    approach = Approach(
        title=a.title,
        kind=a.kind,
        course_deg=a.course_deg,
        aids=tuple(Aid(name=aid.aid, kind=aid.kind, mhz=aid.mhz, ident=aid.ident) for aid in a.aids),
        fixes=tuple(_fix(fix) for fix in a.fixes),
        final_fix=a.final_fix,
        angle_deg=a.angle_deg,
        crossing_ft=a.crossing_ft,
        minima={row.category: row.altitude_ft for row in a.minima},
        visibility_m={row.category: row.visibility_m for row in a.minima if row.visibility_m is not None},
        table=tuple((row.distance_nm, row.altitude_ft) for row in a.table),
        missed_ft=a.missed.altitude_ft,
        missed=a.missed.words,
        papi_deg=a.papi_deg,
    )
    hold = None
    if shape.hold is not None:
        h = shape.hold
        hold = Hold(fix=h.fix, laps=int(h.laps), speed_kt=h.speed_kt, altitude_ft=h.altitude_ft, leg_min=h.leg_min)
    return Arrival(
        id=shape.arrival,
        title=shape.title,
        about=shape.about,
        version=shape.version,
        status=shape.status,
        hash=hash_,
        aerodrome=Aerodrome(**shape.aerodrome.model_dump()),
        runway=Runway(**shape.runway.model_dump()),
        approach=approach,
        weather=weather,
        winds=tuple(Wind(w.altitude_ft, w.from_deg, w.kt) for w in shape.winds),
        aircraft=aircraft,
        start=Start(**shape.start.model_dump()),
        hold=hold,
        alternate=shape.alternate.name,
        alternate_kg=shape.alternate.fuel_kg,
        policy=_policy(shape.policy),
    )


def _fix(shape: FixShape) -> Fix:
    low, high = shape.at_or_above_ft, shape.at_or_below_ft
    if shape.at_ft is not None:
        low = high = shape.at_ft
    if shape.between_ft is not None:
        low, high = shape.between_ft
    return Fix(
        name=shape.fix,
        distance_nm=shape.distance_nm,
        at_least_ft=low,
        at_most_ft=high,
        speed_kt=shape.speed_kt,
        track_deg=shape.track_deg,
    )


def _policy(shape: PolicyShape) -> Policy:
    plain: dict[str, Any] = shape.model_dump(exclude={"additive", "gate", "icing"})
    return Policy(
        **plain,
        additive=Additive(**shape.additive.model_dump()),
        gate=Gate(**shape.gate.model_dump()),
        icing=Icing(**shape.icing.model_dump()),
    )


def _weather(shape: ArrivalShape, spot: Spot, find: Callable[[Spot, str, str], None]) -> Weather | None:
    if (shape.weather is None) == (shape.report is None):
        find(spot, "weather", "give the weather once: either 'weather' (a METAR) or 'report' (values)")
        return None
    if shape.report is not None:
        return _reported(shape.report)
    try:
        return decode(shape.weather or "")
    except NotAReport as error:
        find(spot / "weather", "weather", str(error))
        return None


def _reported(shape: ReportShape) -> Weather:
    base = shape.cloud_base_ft
    values = {
        "wind": shape.wind_kt,
        "visibility": shape.visibility_m,
        "temperature": shape.temperature_c,
        "pressure": shape.pressure_hpa,
    }
    return Weather(
        wind_from_deg=shape.wind_from_deg,
        wind_kt=shape.wind_kt,
        gust_kt=shape.gust_kt,
        visibility_m=shape.visibility_m,
        phenomena=tuple(shape.phenomena),
        clouds=() if base is None else (Cloud(cover="overcast", base_ft=base),),
        temperature_c=shape.temperature_c,
        dew_point_c=shape.dew_point_c,
        qnh_hpa=shape.pressure_hpa,
        missing=tuple(name for name, value in values.items() if value is None),
    )
