"""What passed between the pilots and at the gates: transfers of control, challenges, interruptions, gates met."""

from collections.abc import Iterable
from typing import Literal, TypeAlias

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.model import events as ev
from flowdeck.model.seats import Seat


class Transfer(Struct, frozen=True, kw_only=True):
    """Control offered, taken and confirmed (ms). *seized*: taken without an offer after two missed replies."""

    at: int
    by: Seat
    taken_at: int | None = None
    confirmed_at: int | None = None
    flying: Seat | None = None
    seized: bool = False


class ChallengeMade(Struct, frozen=True, kw_only=True):
    """One pilot spoke up about *about*. *count*: which challenge about the same thing that was not answered."""

    at: int
    seat: Seat
    about: str
    replied_at: int | None = None
    missed: int = 0


class Break(Struct, frozen=True, kw_only=True):
    """An interruption from outside, *at* to *until* (ms)."""

    at: int
    until: int
    words: str
    safety: bool


Answer: TypeAlias = Literal["passed", "mended", "overrun", "failed"]


class GateMet(Struct, frozen=True, kw_only=True):
    """*answer*: what became of it; `failed` where the flight ended before it was answered. *answered_at*: ms."""

    gate: str
    phase: str
    at: int
    answer: Answer
    failing: tuple[str, ...] = ()
    answered_at: int | None = None


class Crew(Struct, frozen=True, kw_only=True):
    transfers: tuple[Transfer, ...]
    challenges: tuple[ChallengeMade, ...]
    breaks: tuple[Break, ...]
    gates: tuple[GateMet, ...]


def crew_of(events: Iterable[ev.Event]) -> Crew:
    """All of it, each in the order in which it began."""
    transfers: list[Transfer] = []
    challenges: list[ChallengeMade] = []
    breaks: list[Break] = []
    gates: list[GateMet] = []
    phase = ""
    for event in events:
        match event:
            case ev.FlightStarted() | ev.PhaseEntered():
                phase = event.phase
            case ev.ControlOffered():
                transfers.append(Transfer(at=event.at, by=event.seat))
            case ev.ControlTaken():
                if transfers:
                    transfers[-1] = replace(transfers[-1], taken_at=event.at)
            case ev.ControlConfirmed():
                _confirmed(transfers, event)
            case ev.Challenged():
                challenges.append(ChallengeMade(at=event.at, seat=event.seat, about=event.about))
            case ev.Replied():
                if challenges:
                    challenges[-1] = replace(challenges[-1], replied_at=event.at)
            case ev.ReplyMissed():
                if challenges:
                    challenges[-1] = replace(challenges[-1], missed=event.count)
            case ev.Interrupted():
                breaks.append(Break(at=event.at, until=event.until, words=event.words, safety=event.safety))
            case ev.GatePassed():
                gates.append(GateMet(gate=event.gate, phase=phase, at=event.at, answer="passed"))
            case ev.GateFailed():
                met = GateMet(gate=event.gate, phase=phase, at=event.at, answer="failed", failing=event.failing)
                gates.append(met)
            case ev.GateMended():
                _answered(gates, event.gate, "mended", event.at)
            case ev.GateOverrun():
                _answered(gates, event.gate, "overrun", event.at)
            case _:
                pass
    return Crew(transfers=tuple(transfers), challenges=tuple(challenges), breaks=tuple(breaks), gates=tuple(gates))


def _confirmed(transfers: list[Transfer], event: ev.ControlConfirmed) -> None:
    open_ = bool(transfers) and transfers[-1].confirmed_at is None
    if event.seized or not open_:
        transfers.append(
            Transfer(at=event.at, by=event.flying, confirmed_at=event.at, flying=event.flying, seized=event.seized)
        )
    else:
        transfers[-1] = replace(transfers[-1], confirmed_at=event.at, flying=event.flying)


def _answered(gates: list[GateMet], gate: str, answer: Answer, at: int) -> None:
    for i in range(len(gates) - 1, -1, -1):
        if gates[i].gate == gate:
            gates[i] = replace(gates[i], answer=answer, answered_at=at)
            return
