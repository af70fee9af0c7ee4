"""What can be chosen from a list at a moment of a flight: rows of a name to send and words to show.

Of a seat that is somebody else's nothing is given away: its things stand by name, whether they are owed now or not.
"""

from flowdeck.engine.owed import Duty, owed
from flowdeck.engine.topic import PARAMETERS
from flowdeck.engine.work import Work
from flowdeck.model.deck import Item, ItemKind
from flowdeck.model.seats import Owner, Seat
from flowdeck.model.session import ListStatus, Status
from flowdeck.view.vantage import Vantage
from flowdeck.view.words import blank, by_number, safe

Rows = list[tuple[str, str]]


def titled(work: Work, ref: str) -> str:
    """What a pilot calls it, with the readings of now."""
    return safe(work.title(ref))


def pickable(work: Work, vantage: Vantage) -> Rows:
    """Items, calls and lists of this phase: what is open first; in a drill by name, which gives nothing away."""
    session = work.session
    here = [item for item in work.program.items_of[session.phase] if work.owes(item)]
    found = [item.id for item in here]
    found += [checklist.id for checklist in work.program.lists_of[session.phase]]
    found += [ref for ref, state in session.items.items() if state.status is Status.LAPSED and ref not in found]
    rows = [(ref, _described(work, vantage, ref)) for ref in found]
    if session.aid == "drill":
        return sorted(rows, key=lambda row: by_number(row[1]))
    return sorted(rows, key=lambda row: (_standing(work, vantage, row[0]), by_number(row[1])))


def _seats(work: Work, ref: str) -> tuple[Seat, ...]:
    """Who owes it: one seat, or both."""
    owner = work.deck.checklists[ref].called_by if ref in work.deck.checklists else work.deck.items[ref].by
    return owner.seats(work.session.flying)[: 2 if owner is Owner.BOTH else 1]


def _standing(work: Work, vantage: Vantage, ref: str) -> int:
    """0 open, 1 still to come, 2 missed, 3 done, 4 somebody else's: the order of the pick list."""
    if all(vantage.is_foreign(seat) for seat in _seats(work, ref)):
        return 4
    if ref in work.deck.checklists:
        return {ListStatus.OPEN: 0, ListStatus.COMPLETE: 3}.get(work.session.list(ref).status, 1)
    state = work.session.item(ref)
    return 0 if state.is_owed else 3 if state.is_done else 2 if state.status is Status.LAPSED else 1


def _described(work: Work, vantage: Vantage, ref: str) -> str:
    """Its name, who owes it, and whether it is done or missed."""
    mark = {2: "  (missed)", 3: "  (done)"}.get(_standing(work, vantage, ref), "")
    seats = _seats(work, ref)
    who = "both" if len(seats) > 1 else seats[0].label.lower()
    if ref in work.deck.checklists:
        return f"Call: {work.deck.checklists[ref].title}, {who}{mark}"
    return f"{_named(work, work.deck.items[ref])}, {who}{mark}"


def _named(work: Work, item: Item) -> str:
    """Its name with the readings of now; a call keeps dots where its reading is not due yet."""
    if item.kind in (ItemKind.CALL, ItemKind.ANSWER):
        return f'"{blank(item.do)}"'
    return titled(work, item.id)


def facts(work: Work, vantage: Vantage) -> Rows:
    """Facts that can be told now, and by whom. A pilot of one seat does not speak for the world outside."""
    session = work.session
    rows = []
    for fact in work.deck.facts.values():
        told = session.facts.get(fact.id) is True
        if (told and not fact.toggles) or (fact.phases and session.phase not in fact.phases):
            continue
        if fact.by != "crew" and len(vantage.own) == 1:
            continue
        verb = "no longer: " if told else ""
        who = "crew" if fact.by == "crew" else "from outside"
        rows.append((fact.id, f"{verb}{fact.title}  ({who})"))
    return rows


def callable_lists(work: Work, vantage: Vantage) -> Rows:
    """Each list of the phase by each own seat, the right caller first."""
    rows = []
    for checklist in work.program.lists_of[work.session.phase]:
        if work.session.list(checklist.id).is_running:
            continue
        right = checklist.called_by.seats(work.session.flying)[0]
        for seat in (right, right.other):
            if not vantage.is_foreign(seat):
                rows.append((f"{checklist.id}/{seat}", f"{checklist.title}, called by the {seat.label.lower()}"))
    return rows


def deferrable(work: Work, vantage: Vantage) -> Rows:
    """What may be put off: open items of flows, each with its own cue or those of the deck."""
    rows: Rows = []
    for duty in owed(work.deck, work.session):
        if duty.duty not in (Duty.DO, Duty.POINT) or vantage.is_foreign(duty.seat):
            continue
        item = work.deck.items[duty.ref]
        cues = [item.cue] if item.cue is not None else list(work.deck.cues)
        for cue in cues:
            when = work.deck.cues[cue].title
            rows.append((f"{duty.seat}/{item.id}/{cue}", f"{titled(work, item.id)}, until: {when.lower()}"))
    return sorted(rows, key=lambda row: by_number(row[1])) if work.session.aid == "drill" else rows


def challengeable(work: Work, vantage: Vantage) -> Rows:
    """What either pilot may speak up about: what the other one owes, late things first, and the flight itself."""
    if len(vantage.own) == 1:
        return _of_the_other(work, vantage.own[0])
    rows: dict[str, str] = {}
    for duty in sorted(owed(work.deck, work.session), key=lambda d: not d.overdue):
        seat = duty.seat.other
        rows[f"{seat}/{duty.ref}"] = f"{seat.label} challenges: {titled(work, duty.ref)}"
    for about in PARAMETERS:
        seat = work.session.monitoring
        rows[f"{seat}/{about}"] = f"{seat.label} challenges: {about}"
    return list(rows.items())


def _of_the_other(work: Work, seat: Seat) -> Rows:
    """All that the other pilot can owe in this phase, lines of the list that is being read among it."""
    session = work.session
    refs = [item.id for item in work.program.items_of[session.phase] if work.owes(item)]
    for checklist in work.program.lists_of[session.phase]:
        refs.append(checklist.id)
        if session.list(checklist.id).is_running:
            refs += checklist.lines
    rows = [(f"{seat}/{ref}", _challenge(work, ref)) for ref in refs if seat.other in _seats(work, ref)]
    here = PARAMETERS if work.deck.phases[session.phase].airborne else ()
    return [*((f"{seat}/{about}", about) for about in here), *sorted(rows, key=lambda row: by_number(row[1]))]


def _challenge(work: Work, ref: str) -> str:
    if ref in work.deck.checklists:
        return f"the {safe(work.deck.checklists[ref].title)}"
    return _named(work, work.deck.items[ref])
