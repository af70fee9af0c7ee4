"""The pilot played by the tool: one seat, at a human pace, attentive to the other one, with lapses on purpose.

The law: a pure policy. What it sends are the inputs that a person in that seat would send; the engine cannot tell them
apart. The same deck, session, readings, memory, time and seed send the same.
"""

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.crew.alert import speak_up
from flowdeck.crew.lapses import Lapse, as_planted, drawn
from flowdeck.crew.manner import Manner, Memory, planted_for
from flowdeck.crew.script import act
from flowdeck.engine.judge import matches, wanted_value
from flowdeck.engine.owed import owed
from flowdeck.engine.program import program
from flowdeck.engine.topic import lists_with, spoken_as
from flowdeck.engine.work import Work
from flowdeck.model import inputs as inp
from flowdeck.model.condition import Scalar, Truth
from flowdeck.model.deck import Deck, ItemKind
from flowdeck.model.lapse import NO_LAPSES, LapseKind, Lapses
from flowdeck.model.readings import Readings
from flowdeck.model.scenario import Planted, Scenario
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session

MENDED_MS = 1500
"""How long (ms) after it was challenged a wrong value is put right."""


class Pilot(Struct, frozen=True, kw_only=True):
    """Who is played. *seed* decides its times and its lapses."""

    seat: Seat
    seed: int = 1
    lapses: Lapses = NO_LAPSES


class Played(Struct, frozen=True, kw_only=True):
    """What a played pilot does now, what it lets slip from now on, and what it remembers."""

    inputs: tuple[inp.Input, ...] = ()
    let_slip: tuple[Lapse, ...] = ()
    memory: Memory


def look_around(
    deck: Deck,
    scenario: Scenario,
    pilot: Pilot,
    session: Session,
    readings: Readings,
    script: Sequence[Truth],
    memory: Memory,
    now: int,
) -> Played:
    """One look of a played pilot at *now* (ms); *script* holds the truths of the scenario's own conditions."""
    if session.ended or session.paused:
        return Played(memory=memory)
    work = Work(program(deck), session, readings, now)
    coming = _coming(work, pilot)
    begun = tuple(
        lapse for lapse in coming if _name(lapse, session) not in memory.let_slip and _begins(work, pilot, lapse)
    )
    memory = replace(memory, let_slip=memory.let_slip | {_name(lapse, session) for lapse in begun})
    mended = _mend(work, pilot, memory)
    if mended is not None:
        item, input_ = mended
        return Played(inputs=(input_,), let_slip=begun, memory=replace(memory, said=memory.said | {f"mended/{item}"}))
    if now >= memory.busy.get(pilot.seat, 0):
        spoken = speak_up(deck, session, memory, pilot.seat, pilot.seed, now)
        memory = spoken.memory
        if spoken.input is not None:
            busy = {**memory.busy, pilot.seat: now + 1200}
            return Played(inputs=(spoken.input,), let_slip=begun, memory=replace(memory, busy=busy))
    manner = Manner(
        seats=(pilot.seat,),
        planted=(*_standing(scenario, pilot, session), *_slips(work, pilot, coming, memory)),
        pace=scenario.pace,
        seed=pilot.seed,
        urgent_only=_is_taken_up(session, pilot.seat, now),
    )
    turn = act(deck, manner, session, script, memory, now)
    inputs = tuple(_as_shown(work, input_, manner.planted) for input_ in turn.inputs)
    return Played(inputs=inputs, let_slip=begun, memory=_remember_words(memory, turn.memory, now))


def _name(lapse: Lapse, session: Session) -> str:
    """What a lapse is remembered by, anew in each approach."""
    return f"{lapse.kind}/{lapse.ref}/{session.approach}"


def _is_caught(deck: Deck, session: Session, seat: Seat, ref: str) -> bool:
    """Whether the other pilot has spoken up about it: from then on it is done as it should be.

    Of a list's lines one speaks with its name from the time that it was called.
    """

    def said_since(about: str, at: int) -> bool:
        challenger, when = session.challenged.get(about, (None, 0))
        return challenger is seat.other and when >= at

    if any(said_since(about, 0) for about in spoken_as(deck, ref)):
        return True
    called = {about: session.list(about).called_at for about in lists_with(deck, ref)}
    return any(at is not None and said_since(about, at) for about, at in called.items())


def _coming(work: Work, pilot: Pilot) -> tuple[Lapse, ...]:
    """The lapses of this approach that nobody has caught yet."""
    session = work.session
    found = drawn(work.deck, pilot.lapses, pilot.seed, session.approach)
    if all(challenger is pilot.seat for challenger, _ in session.challenged.values()):
        return found
    return tuple(lapse for lapse in found if not _is_caught(work.deck, session, pilot.seat, lapse.ref))


def _begins(work: Work, pilot: Pilot, lapse: Lapse) -> bool:
    """Whether the moment has come at which an attentive pilot would have done it."""
    return any(
        duty.seat is pilot.seat and lapse.meets(duty) and duty.ready and work.now > duty.since
        for duty in owed(work.deck, work.session)
    )


def _slips(work: Work, pilot: Pilot, coming: tuple[Lapse, ...], memory: Memory) -> tuple[Planted, ...]:
    """The lapses as slips. Its maker hears a wrong word only after a time; until then the line stays as it is."""
    found: list[Planted] = []
    for lapse in coming:
        said_at = memory.said_at.get(lapse.ref)
        if lapse.kind is LapseKind.LINE_MISSAID and said_at is not None:
            if work.now < said_at + pilot.lapses.wrong_s * 1000:
                found.append(Planted(kind="omit", ref=lapse.ref))
            continue
        slip = as_planted(work, pilot.seed, lapse)
        if slip is not None:
            found.append(slip)
    return tuple(found)


def _standing(scenario: Scenario, pilot: Pilot, session: Session) -> tuple[Planted, ...]:
    """What the scenario has the pilot flying do: go around, discontinue, hand over once. Slips are a rehearsal's."""
    if session.flying is not pilot.seat:
        return ()
    once = session.flying is scenario.flying
    kinds = ("go_around", "discontinue", "transfer") if once else ("go_around", "discontinue")
    return tuple(p for p in scenario.planted if p.kind in kinds)


def _is_taken_up(session: Session, seat: Seat, now: int) -> bool:
    """Whether something from outside keeps this seat busy: the pilot monitoring answers it."""
    interruption = session.interruption
    return interruption is not None and now < interruption.until and session.monitoring is seat


def _mend(work: Work, pilot: Pilot, memory: Memory) -> tuple[str, inp.Input] | None:
    """An item of its own that was challenged and stands wrong is done again, with the right value."""
    session = work.session
    for ref, (challenger, at) in session.challenged.items():
        item = work.deck.items.get(ref)
        state = session.item(ref)
        if challenger is pilot.seat or item is None or item.kind is not ItemKind.ACTION or work.now < at + MENDED_MS:
            continue
        if not state.is_done or state.seat is not pilot.seat or f"mended/{ref}/{at}" in memory.said:
            continue
        wanted = wanted_value(work, item)
        wrong = state.value is not None and wanted is not None and not matches(state.value, wanted)
        if wrong or (item.seen is not None and work.truth(item.seen) is False and state.verify_at is None):
            value = wanted if isinstance(wanted, (int, float, str)) else None
            return f"{ref}/{at}", inp.Act(at=work.now, seat=pilot.seat, item=ref, value=value)
    return None


def _as_shown(work: Work, input_: inp.Input, planted: tuple[Planted, ...]) -> inp.Input:
    """An answer says what the aircraft shows; one without a look says the words of the card."""
    if not isinstance(input_, inp.Answer) or input_.value is not None:
        return input_
    name = work.deck.items[input_.line].value
    blind = planted_for(planted, input_.line, "hurry") is not None
    shown: Scalar | None = None if name is None or blind else work.value(name)
    return input_ if shown is None or isinstance(shown, bool) else replace(input_, value=shown)


def _remember_words(before: Memory, after: Memory, now: int) -> Memory:
    """When a wrong word was said."""
    new = after.said - before.said
    return replace(after, said_at={**after.said_at, **dict.fromkeys(new, now)}) if new else after
