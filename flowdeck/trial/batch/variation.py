"""How one arrival of a trial differs from the scenario that it is made of. All amounts are our proposal.

The law: a variation is told in what a scenario file can say, so that any flight of a trial can be flown again.
"""

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.conditions import Table, names_of
from flowdeck.model.chance import between, draw, one_of
from flowdeck.model.condition import Condition, Scalar
from flowdeck.model.deck import Deck
from flowdeck.model.scenario import SURROUNDINGS, Happening, Planted, Scenario
from flowdeck.model.seats import Seat

MOST_BREAKS = 3


class Break(Struct, frozen=True, kw_only=True):
    """The crew is taken up for *seconds* when *when* comes true."""

    when: str
    seconds: float


class Variation(Struct, frozen=True, kw_only=True):
    """*late*: happenings by the seconds that they come later. *surroundings*, *facts*: in place of the scenario's own.

    *start_nm*: the distance at the start, for a shorter or a longer way in. *go_around_ft*: the height above the
    aerodrome at which the crew goes around once.
    """

    flying: Seat | None = None
    pace: dict[Seat, float] = {}
    facts: dict[str, bool] = {}
    surroundings: dict[str, Scalar] = {}
    start_nm: float | None = None
    late: dict[str, float] = {}
    breaks: tuple[Break, ...] = ()
    go_around_ft: float | None = None


def varied(scenario: Scenario, seed: int, run: int) -> Variation:
    """Variation number *run* of *seed*."""
    start = scenario.start.distance_nm
    said = [each for each in scenario.happenings if each.words or each.tells]
    return Variation(
        flying=one_of(tuple(Seat), seed, "flying", run),
        pace={seat: round(between(0.7, 1.8, seed, f"pace {seat}", run), 2) for seat in Seat},
        facts={fact: draw(seed, f"fact {fact}", run) < 0.5 for fact in scenario.varies},
        surroundings=_weather(scenario, seed, run),
        start_nm=round(start * between(0.9, 1.3, seed, "start", run), 1),
        late={
            each.id: float(round(between(5, 40, seed, f"late {each.id}", run)))
            for each in said
            if draw(seed, f"is late {each.id}", run) < 0.35
        },
        breaks=tuple(_break(start, seed, run, n) for n in range(int(draw(seed, "breaks", run) * (MOST_BREAKS + 1)))),
        go_around_ft=float(round(between(150, 900, seed, "go-around", run)))
        if draw(seed, "goes around", run) < 0.15
        else None,
    )


def _weather(scenario: Scenario, seed: int, run: int) -> dict[str, Scalar]:
    around = {**SURROUNDINGS, **scenario.surroundings}
    wind, warmth = float(around["headwind_kt"]), float(around["surface_temperature_c"])
    base = scenario.place.elevation_ft + between(900, 6000, seed, "cloud base", run)
    in_cloud = draw(seed, "cloud", run) < 0.6
    found: dict[str, Scalar] = {
        "headwind_kt": float(round(wind + between(-10, 15, seed, "wind", run))),
        "surface_temperature_c": float(round(warmth + between(-14, 10, seed, "warmth", run))),
        "cloud_base_ft": float(round(base, -2)) if in_cloud else 60_000.0,
        "cloud_top_ft": float(round(base + between(500, 8000, seed, "cloud top", run), -2)) if in_cloud else 60_000.0,
        "precipitation": one_of(("none", "none", "rain", "snow"), seed, "rain", run) if in_cloud else "none",
        "ground_power": draw(seed, "ground power", run) < 0.4,
    }
    return found


def _break(start_nm: float, seed: int, run: int, number: int) -> Break:
    at = between(0, 1, seed, f"break {number}", run)
    seconds = float(round(between(5, 45, seed, f"break lasts {number}", run)))
    if at < 0.8:
        return Break(when=f"distance_nm <= {start_nm * (1 - at):.1f}", seconds=seconds)
    return Break(when=f"on_ground and groundspeed_kt < {40 * at:.0f}", seconds=seconds)


def applied(deck: Deck, scenario: Scenario, variation: Variation) -> Scenario:
    """The scenario as it is flown; the slips that are planted in it are left out."""
    rows = list(scenario.conditions)
    happenings = [_later(each, variation) for each in scenario.happenings]
    for number, each in enumerate(variation.breaks, start=1):
        rows.append(_condition(deck, each.when))
        happenings.append(
            Happening(id=f"break-{number}", when=len(rows) - 1, words=BREAK_WORDS, interrupts_s=each.seconds)
        )
    planted: tuple[Planted, ...] = ()
    if variation.go_around_ft is not None:
        rows.append(_condition(deck, go_around_when(variation.go_around_ft)))
        planted = (Planted(kind="go_around", ref="flight", when=len(rows) - 1),)
    start = scenario.start
    if variation.start_nm is not None:
        start = replace(start, distance_nm=variation.start_nm)
    return replace(
        scenario,
        flying=variation.flying or scenario.flying,
        pace={**scenario.pace, **variation.pace},
        facts={**scenario.facts, **variation.facts},
        surroundings={**scenario.surroundings, **variation.surroundings},
        start=start,
        conditions=tuple(rows),
        happenings=tuple(happenings),
        planted=planted,
    )


BREAK_WORDS = "Something comes between."


def go_around_when(height_ft: float) -> str:
    """The condition at which the crew goes around."""
    return f"height_aal_ft <= {height_ft:g} and not on_ground"


def _later(happening: Happening, variation: Variation) -> Happening:
    late = variation.late.get(happening.id)
    return happening if late is None else replace(happening, after_s=happening.after_s + late)


def _condition(deck: Deck, text: str) -> Condition:
    table = Table(names_of(deck))
    row = table.add(text)
    return table.conditions[row]
