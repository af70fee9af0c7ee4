"""One sentence a slip, as an instructor would say it."""

from typing import assert_never

from flowdeck.model.deck import Deck
from flowdeck.model.deviation import Deviation, Slip
from flowdeck.view.words import safe, title


def sentence(deck: Deck, d: Deviation) -> str:
    """What slipped, in one sentence that stands by itself; the class is shown beside it."""
    return safe(_sentence(title(deck, d.item), "" if d.seat is None else d.seat.label, d))


def _sentence(name: str, seat: str, d: Deviation) -> str:
    who = f"{seat}: " if seat else ""
    match d.slip:
        case Slip.OMITTED:
            return f"{who}{name} was not done."
        case Slip.LATE | Slip.STANDING_MISSED:
            return f"{who}{name} is late."
        case Slip.STANDING_LEFT_ON:
            return f"{who}{name} is late: what called for it is over."
        case Slip.EARLY:
            return f"{who}{name} too early; {_after_name(d.expected)}."
        case Slip.OUT_OF_ORDER | Slip.FLOW_ORDER:
            return f"{who}{name} came too soon. {_capital(d.expected)}."
        case Slip.REPEATED:
            return f"{who}{name} was done already."
        case Slip.WRONG_SEAT:
            return f"{name} is for the {d.expected.lower()}; the {seat.lower()} did it."
        case Slip.UNVERIFIED:
            return f"{who}{name}: {d.actual}. Expected: {d.expected}."
        case Slip.READ_DO:
            return f"{who}{name} was done only after its challenge."
        case Slip.ROTE | Slip.CHUNKED:
            return f"{who}{name}: {d.actual}."
        case Slip.FROM_MEMORY:
            return f"{who}{name} called complete with {d.actual}."
        case Slip.NONSTANDARD_RESPONSE:
            return f"{who}{name}: {d.actual} was said for {d.expected}."
        case Slip.NOT_CALLED:
            return f"{who}{name} has not been called."
        case Slip.WRONG_TIME:
            return f"{who}{name}: {d.expected}; it was {d.actual}."
        case Slip.NO_COMPLETION:
            return f"{who}{name}: {d.expected} {d.actual}."
        case Slip.CALL_MISSED:
            return f"{who}{name} was not said."
        case Slip.CALL_LATE:
            return f"{who}{name} was said late."
        case Slip.CALL_PROMPTED:
            return f"{who}{name} was said only after the prompt."
        case Slip.GATE_FAILED:
            return f"{name}, not so: {d.actual}."
        case Slip.CONTINUED_PAST_GATE:
            return f"{who}{name}: {d.actual}. Expected: {d.expected}."
        case Slip.DEFERRED_LOST:
            return f"{who}{name} was put off and did not come back."
        case _:
            assert_never(d.slip)


def _after_name(expected: str) -> str:
    """`Gear DOWN once its window is open (dist ≤ 6 NM)` without the name."""
    _, found, rest = expected.partition(" once ")
    return f"{found.strip()} {rest}" if found else expected


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
