"""The brief of an arrival: everything a crew must know before the approach, worked out from one `Arrival`.

Pure: the same arrival gives the same brief. What cannot be worked out stands in `unknown` with its reason; what a
crew should mind stands in `cautions`; a caution with `no_landing` says that the landing is not possible as planned.
"""

from msgspec import Struct

from flowdeck.arrival.air import Air
from flowdeck.arrival.bounds import OutOfRange
from flowdeck.arrival.briefing import ground, limits, weather
from flowdeck.arrival.briefing.bench import Bench
from flowdeck.arrival.briefing.descent import flight
from flowdeck.arrival.expected import (
    FixRow,
    MileRow,
    TurnRow,
    fix_rows,
    mile_rows,
    table_conflicts,
    turn_rows,
    uncorrected,
)
from flowdeck.arrival.plan import Arrival
from flowdeck.arrival.profile import Profile
from flowdeck.arrival.sheet import Caution, Section


class RateRow(Struct, frozen=True, kw_only=True):
    """Rate of descent on the final path at a ground speed; *planned* marks the one of the plan."""

    ground_kt: float
    rate_fpm: float
    planned: bool = False


class Brief(Struct, frozen=True, kw_only=True):
    """See the module. *planned* holds the numbers that a flight is watched against, by the names of their signals."""

    arrival: Arrival
    sections: tuple[Section, ...]
    fixes: tuple[FixRow, ...]
    miles: tuple[MileRow, ...]
    rates: tuple[RateRow, ...]
    turns: tuple[TurnRow, ...]
    profile: Profile | None
    cautions: tuple[Caution, ...]
    unknown: tuple[str, ...]
    planned: dict[str, float]

    @property
    def lands(self) -> bool:
        """Whether the landing is possible as planned, as far as is known."""
        return not any(caution.no_landing for caution in self.cautions)


def make_brief(arrival: Arrival) -> Brief:
    """Work the whole brief out. Never raises for a well-formed arrival: what fails is named in it."""
    bench = Bench(arrival)
    weather.reported(bench)
    weather.wind(bench)
    flight(bench)
    limits.speeds(bench)
    limits.stopping(bench)
    limits.minima(bench)
    ground.aids(bench)
    ground.missed(bench)
    weather.icing(bench)
    profile, air = bench.profile, bench.air
    fixes: tuple[FixRow, ...] = ()
    turns: tuple[TurnRow, ...] = ()
    if profile is not None and air is not None:
        fixes = fix_rows(arrival, profile)
        turns = _turns(bench, profile, air)
    miles = mile_rows(arrival)
    for row in fixes:
        if row.conflict:
            bench.sheet.warn("constraint", f"{row.name}, {row.asks or 'speed'}: {row.conflict}")
    if arrival.weather.temperature_c is not None and any(row.flown_ft is None for row in miles):
        far = min(row.distance_nm for row in miles if row.flown_ft is None)
        words = f"from {far:g} NM out the table is over 5000 ft above the aerodrome, where no correction has a figure"
        bench.sheet.warn("cold", words)
    if lacking := uncorrected(arrival):
        named = "; ".join(f"{fix.name}, {fix.asks}" for fix in lacking)
        bench.sheet.warn("cold", f"no correction has a figure so high or so cold: {named}")
    for words in table_conflicts(miles):
        bench.sheet.warn("table", words)
    planned = ground.planned(bench)
    return Brief(
        arrival=arrival,
        sections=tuple(bench.sheet.sections),
        fixes=fixes,
        miles=miles,
        rates=tuple(RateRow(ground_kt=kt, rate_fpm=fpm, planned=own) for kt, fpm, own in ground.rates(bench)),
        turns=turns,
        profile=profile,
        cautions=tuple(dict.fromkeys(bench.sheet.cautions)),
        unknown=tuple(dict.fromkeys(bench.sheet.unknown)),
        planned=planned,
    )


def _turns(bench: Bench, profile: Profile, air: Air) -> tuple[TurnRow, ...]:
    try:
        return turn_rows(bench.arrival, profile, air)
    except OutOfRange as beyond:
        bench.sheet.warn("beyond_table", f"turns: {beyond}")
        return ()
