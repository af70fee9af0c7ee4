"""What moves the flight as a whole: facts, control, challenges, the go-around, interruptions, phases."""

from math import isfinite

from flowdeck.engine import acts
from flowdeck.engine.topic import is_topic
from flowdeck.engine.work import Work
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.change import Change
from flowdeck.model.deck import Checklist, Item, ItemKind
from flowdeck.model.deviation import Deviation, Slip
from flowdeck.model.session import ListStatus, Status

NEW_APPROACH = "a new approach"
NEW_FLIGHT = "a new flight"
"""Why ticks are void when the next flight begins."""


def tell(work: Work, i: inp.Tell) -> None:
    fact = work.deck.facts.get(i.fact)
    if fact is None:
        work.refuse(i.fact, "this deck has no such fact", i.seat)
        return
    if i.seat is not None and fact.by == "outside" and not work.session.solo:
        work.refuse(i.fact, "this comes from outside the flight deck", i.seat)
        return
    if not i.value and not fact.toggles:
        work.refuse(i.fact, "once told, this fact stays", i.seat)
        return
    if i.seat is not None and fact.phases and work.session.phase not in fact.phases:
        work.refuse(i.fact, "this is not told in this phase", i.seat)
        return
    acts.tell(work, i.fact, i.value, i.seat)


def revise(work: Work, i: inp.Revise) -> None:
    """The plan changed: what rests on a number that is another one now is owed again."""
    signals = work.program.signals
    changes = tuple(c for c in i.changes if c.signal in signals and c.before != c.after and _finite(c))
    if not changes:
        work.refuse("plan", "nothing that this deck plans with has changed")
        return
    work.emit(ev.PlanRevised(at=work.now, because=i.because, changes=changes, report=i.report))
    if work.deck.revised:
        acts.tell(work, work.deck.revised, True, None)
    changed = {change.signal for change in changes}
    for item in work.deck.items.values():
        if work.session.phase in item.phases and work.program.rests_on[item.id] & changed:
            acts.reopen(work, item, i.because)


def _finite(change: Change) -> bool:
    return all(not isinstance(value, float) or isfinite(value) for value in (change.before, change.after))


def transfer(work: Work, i: inp.Transfer) -> None:
    """Control passes in three parts, and at no moment does nobody fly."""
    s = work.session
    match i.part:
        case "offer":
            if i.seat is not s.flying:
                work.slip(Slip.WRONG_SEAT, "control", i.seat, f"{s.flying.label} offers it", f"{i.seat.label} did")
                return
            work.emit(ev.ControlOffered(at=work.now, seat=i.seat))
        case "take":
            if s.offered is None or i.seat is s.offered:
                work.refuse("control", "the other pilot has not offered it", i.seat)
                return
            work.emit(ev.ControlTaken(at=work.now, seat=i.seat))
        case "confirm":
            if s.offered is not i.seat or not s.taken:
                work.refuse("control", "it has not been taken yet", i.seat)
                return
            work.emit(ev.ControlConfirmed(at=work.now, flying=i.seat.other))


def take_over(work: Work, i: inp.TakeOver) -> None:
    if i.seat is work.session.flying:
        work.refuse("control", "this pilot is flying already", i.seat)
        return
    work.emit(ev.ControlConfirmed(at=work.now, flying=i.seat, seized=True))


def challenge(work: Work, i: inp.Challenge) -> None:
    """To ask again, and to ask back, leaves what was asked before without an answer."""
    if not is_topic(work.deck, i.about):
        work.refuse("challenge", "there is no such thing to speak up about", i.seat)
        return
    open_ = work.session.challenge
    if open_ is not None and (open_.about == i.about or open_.seat is not i.seat):
        _unanswered(work)
    reply_by = work.now + round(work.deck.policy.challenge_s * 1000)
    work.emit(ev.Challenged(at=work.now, seat=i.seat, about=i.about, reply_by=reply_by))


def _unanswered(work: Work) -> None:
    open_ = work.session.challenge
    assert open_ is not None
    count = work.session.challenges.get(open_.about, 0) + 1
    work.emit(ev.ReplyMissed(at=work.now, seat=open_.seat, about=open_.about, count=count))


def settle_challenge(work: Work) -> None:
    """A challenge whose time has passed without an answer."""
    open_ = work.session.challenge
    if open_ is not None and work.now >= open_.reply_by:
        _unanswered(work)


def reply(work: Work, i: inp.Reply) -> None:
    open_ = work.session.challenge
    if open_ is None and work.session.takeover is None:
        work.refuse("reply", "nothing has been challenged", i.seat)
        return
    if i.seat in (open_.seat if open_ is not None else None, work.session.takeover):
        work.refuse("reply", "the other pilot is to answer", i.seat)
        return
    work.emit(ev.Replied(at=work.now, seat=i.seat))


def interrupt(work: Work, i: inp.Interrupt) -> None:
    """The list being read stops at its line, spoken or not."""
    until = work.now + round(i.length_s * 1000)
    work.emit(ev.Interrupted(at=work.now, words=i.words, until=until, safety=i.safety))
    for ref, state in work.session.lists.items():
        if state.status is ListStatus.CALLED:
            work.emit(ev.ListHeld(at=work.now, checklist=ref, seat=None, why=i.words, spoken=False))


def go_around(work: Work, i: inp.GoAround) -> None:
    """Either seat may call it, from any airborne phase, until reverse is selected."""
    to = work.program.machine.where_to(work.session.phase, "go_around", work.session.truths)
    if to is None:
        airborne = work.deck.phases[work.session.phase].airborne and work.session.phase != work.deck.go_around
        why = "the aeroplane is committed to the landing" if airborne else "no go-around leads out of this phase"
        work.refuse("go-around", why, i.seat)
        return
    for gate, state in list(work.session.gates.items()):
        if state.status in ("failed", "overrun"):
            for deviation in work.session.deviations:
                if deviation.item == gate and deviation.is_open:
                    work.trap(deviation, i.seat)
            work.emit(ev.GateMended(at=work.now, gate=gate))
    enter(work, to, how=i.how)


def enter(work: Work, to: str, how: str = "") -> None:
    """Leave the present phase for *to* (a phase, or an end of the deck)."""
    deck, left = work.deck, work.session.phase
    going_around = to == deck.go_around
    if not going_around:
        _leave_items(work, left, to)
        _leave_lists(work, left)
    if to in deck.ends:
        _lose_deferred(work)
        work.emit(ev.FlightEnded(at=work.now, end=to))
        return
    again = left == deck.go_around and deck.phases[to].airborne
    work.emit(ev.PhaseEntered(at=work.now, phase=to, left=left, how=how, airborne_again=again))
    if going_around or again:
        _forget_facts(work)
    if going_around:
        _void(work, [p for p in work.program.airborne if p != deck.go_around], "going around")
    elif again:
        _void(work, list(work.program.airborne), NEW_APPROACH)
    elif deck.phases[to].clears:
        _lose_deferred(work)
        _void(work, [p for p in deck.phases if p != to], NEW_FLIGHT)
    for gate in work.program.gates_of[to]:
        if left not in gate.phases and work.truth(gate.at) is True:
            work.rose.add(gate.at)


def _forget_facts(work: Work) -> None:
    """What was told of one approach (in sight, cleared to land) does not hold for the next."""
    for fact in work.deck.facts.values():
        at_start = work.session.facts_at_start.get(fact.id) is True
        if fact.lasts == "approach" and (work.session.facts.get(fact.id) is True) != at_start:
            work.emit(ev.FactTold(at=work.now, fact=fact.id, value=at_start))


def _leave_items(work: Work, left: str, to: str) -> None:
    """What was owed in a phase that ends and in no later one is omitted."""
    for item in work.program.items_of[left]:
        if to in item.phases:
            continue
        state = work.state(item.id)
        if not state.is_owed:
            continue
        if not work.owes(item):
            work.emit(ev.ItemWithdrawn(at=work.now, item=item.id))
            continue
        if item.kind in (ItemKind.STANDING_ON, ItemKind.STANDING_OFF):
            work.emit(ev.ItemWithdrawn(at=work.now, item=item.id))
            continue
        work.emit(ev.ItemLapsed(at=work.now, item=item.id))
        slip = Slip.CALL_MISSED if item.kind in (ItemKind.CALL, ItemKind.ANSWER) else Slip.OMITTED
        late = [d for d in work.session.deviations if d.item == item.id and d.slip is Slip.LATE and _stands(d)]
        omitted(work, item, slip, late[-1].number if late else None)


def _stands(deviation: Deviation) -> bool:
    return deviation.trapped_by is None and deviation.superseded_by is None


def omitted(work: Work, item: Item, slip: Slip, supersedes: int | None = None) -> None:
    """Raise that an item was never done; the seat is the one that owes it."""
    seats = work.seats(item)
    verb = "said" if item.kind in (ItemKind.CALL, ItemKind.ANSWER) else "done"
    work.slip(
        slip,
        item.id,
        seats[0] if len(seats) == 1 else None,
        f"{work.title(item.id)} {verb}",
        f"not {verb}",
        reason=item.why,
        supersedes=supersedes,
        cures=(item.id,),
    )


def _leave_lists(work: Work, left: str) -> None:
    for checklist in work.program.lists_of[left]:
        state = work.session.list(checklist.id)
        if not work.owed(checklist.when, checklist.unless):
            if state.status is ListStatus.OPEN:
                work.emit(ev.ListWithdrawn(at=work.now, checklist=checklist.id))
            continue
        if state.status is ListStatus.OPEN:
            if not state.overdue_call:
                not_called(work, checklist)
            work.emit(ev.ListLapsed(at=work.now, checklist=checklist.id))
        elif state.is_running and not state.overdue_completion:
            no_completion(work, checklist)


def not_called(work: Work, checklist: Checklist) -> None:
    work.emit(ev.ListOverdue(at=work.now, checklist=checklist.id, of="call"))
    seats = checklist.called_by.seats(work.session.flying)
    work.slip(
        Slip.NOT_CALLED,
        checklist.id,
        seats[0],
        f"{checklist.title} called",
        "not called",
        reason=checklist.why,
        cures=(checklist.id,),
    )


def no_completion(work: Work, checklist: Checklist) -> None:
    work.emit(ev.ListOverdue(at=work.now, checklist=checklist.id, of="completion"))
    held = work.session.list(checklist.id).status is ListStatus.HELD
    seats = checklist.read_by.seats(work.session.flying)
    actual = "left on hold" if held else "not said"
    work.slip(Slip.NO_COMPLETION, checklist.id, seats[0], f"'{checklist.completion}'", actual, cures=(checklist.id,))


def _lose_deferred(work: Work) -> None:
    """At the end nothing may still be put off."""
    for ref, state in work.session.items.items():
        if state.status is Status.DEFERRED or (state.cue_late_at is not None and state.is_owed):
            if all(d.item != ref or d.slip is not Slip.DEFERRED_LOST or d.trapped_by for d in work.session.deviations):
                deferred_lost(work, ref)


def deferred_lost(work: Work, ref: str) -> None:
    state = work.state(ref)
    cue = work.deck.cues[state.cue].title if state.cue is not None else "the time given"
    work.slip(Slip.DEFERRED_LOST, ref, state.seat, f"{work.title(ref)} after its cue: {cue}", "not done", cures=(ref,))


def _void(work: Work, phases: list[str], because: str) -> None:
    """Ticks, lists and gates of these phases are as if nothing had been done, but for those that survive."""
    deck, chosen = work.deck, set(phases)
    all_cleared = because == NEW_FLIGHT
    items = tuple(
        item.id
        for item in deck.items.values()
        if chosen.intersection(item.phases)
        and (all_cleared or not item.survives)
        and item.id in work.session.items
        and not (item.kind in (ItemKind.STANDING_ON, ItemKind.STANDING_OFF) and work.session.phase in item.phases)
    )
    lists = tuple(c.id for c in deck.checklists.values() if c.phase in chosen and (all_cleared or not c.survives))
    gates = tuple(g.id for g in deck.gates.values() if chosen.intersection(g.phases))
    marks = tuple(ref for ref in deck.marks if ref in work.session.times) if because == NEW_APPROACH else ()
    work.emit(ev.Reset(at=work.now, items=items, lists=lists, gates=gates, because=because, marks=marks))
