"""What pilots do to a checklist: call, read, answer, skip, hold, resume, complete.

The law: a check never sets a state. One challenge, one answer; the list is open until the reader
says that it is complete; a hold names its place, and resuming repeats the last line done.
"""

from flowdeck.engine import judge
from flowdeck.engine.words import in_words
from flowdeck.engine.work import Work, travel_ms
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deck import Checklist, HoldPoint, Item
from flowdeck.model.deviation import Slip
from flowdeck.model.seats import Owner, Seat
from flowdeck.model.session import ListState, ListStatus, Status

VAGUE = frozenset({"set", "checked", "check", "normal", "ok", "okay", "done", "as required", "on off"})
"""Answers that name no value (CR-177549 App A(4), second-hand)."""


def _find(work: Work, ref: str, seat: Seat) -> Checklist | None:
    checklist = work.deck.checklists.get(ref)
    if checklist is None:
        work.refuse(ref, "this deck has no such checklist", seat)
    return checklist


def owed_lines(work: Work, checklist: Checklist) -> list[Item]:
    """The lines that apply now, in order."""
    return [item for item in (work.deck.items[ref] for ref in checklist.lines) if work.owes(item)]


def next_line(work: Work, checklist: Checklist) -> Item | None:
    """The first line that is neither closed nor skipped."""
    for item in owed_lines(work, checklist):
        state = work.state(item.id)
        if not state.is_done and not state.skipped:
            return item
    return None


def passed_over(work: Work, checklist: Checklist) -> list[Item]:
    """The lines that the reader passed over and has not come back to, in order."""
    return [item for item in owed_lines(work, checklist) if work.state(item.id).skipped]


def line_at(work: Work, checklist: Checklist) -> Item | None:
    """The line at which the list stands: the one to be said again on resuming, else the next one."""
    lines = owed_lines(work, checklist)
    reread = work.session.list(checklist.id).reread
    return next((item for item in lines if item.id == reread), None) or next_line(work, checklist)


def hold_before(work: Work, checklist: Checklist, line: Item | None) -> HoldPoint | None:
    """The hold point that stands before *line* (None: before the completion) and has not been passed."""
    index = len(checklist.lines) if line is None else checklist.lines.index(line.id)
    passed = work.session.list(checklist.id).passed_holds
    for hold in checklist.holds:
        if hold.before <= index and hold.id not in passed:
            return hold
    return None


def call(work: Work, i: inp.CallList) -> None:
    checklist = _find(work, i.checklist, i.seat)
    if checklist is None:
        return
    state = work.session.list(checklist.id)
    if state.is_running:
        work.refuse(checklist.id, "it is being read", i.seat)
        return
    judge.judge_seat(work, checklist.id, checklist.called_by, i.seat)
    if state.status is ListStatus.COMPLETE:
        work.slip(Slip.REPEATED, checklist.id, i.seat, "once", "called again after it was complete")
    _judge_time(work, checklist, state, i.seat)
    judge.judge_edges(work, checklist.id, checklist.after, i.seat)
    late = work.open_slip(checklist.id, Slip.NOT_CALLED)
    work.emit(ev.ListCalled(at=work.now, checklist=checklist.id, seat=i.seat, lines=checklist.lines))
    if late is not None:
        work.trap(late, i.seat)
    work.answered(checklist.id, i.seat)


def _judge_time(work: Work, checklist: Checklist, state: ListState, seat: Seat) -> None:
    if state.status is ListStatus.WAITING:
        text = in_words(work.deck, checklist.opens)
        work.slip(Slip.WRONG_TIME, checklist.id, seat, f"called once {text}", "called before that")
    elif checklist.not_while is not None and work.truth(checklist.not_while) is True:
        text = in_words(work.deck, checklist.not_while)
        work.slip(Slip.WRONG_TIME, checklist.id, seat, f"not while {text}", "called then")


def read(work: Work, i: inp.ReadLine) -> None:
    checklist = _find(work, i.checklist, i.seat)
    if checklist is None:
        return
    state = work.session.list(checklist.id)
    if not state.is_running:
        work.refuse(checklist.id, "it has not been called", i.seat)
        return
    line = next_line(work, checklist) or next(iter(passed_over(work, checklist)), None)
    if line is None:
        work.refuse(checklist.id, "no line is left; say that it is complete", i.seat)
        return
    if work.state(line.id).read_at is not None and state.status is ListStatus.CALLED and not state.reread:
        work.refuse(line.id, "it has been read and waits for its answer", i.seat)
        return
    judge.judge_seat(work, checklist.id, checklist.read_by, i.seat)
    if checklist.not_while is not None and work.truth(checklist.not_while) is True:
        text = in_words(work.deck, checklist.not_while)
        work.slip(Slip.WRONG_TIME, checklist.id, i.seat, f"not read while {text}", "read then")
    hold = hold_before(work, checklist, line)
    if hold is not None:
        _judge_hold(work, checklist, hold, i.seat)
    work.emit(
        ev.LineRead(
            at=work.now, checklist=checklist.id, line=line.id, seat=i.seat, passes=hold.id if hold is not None else ""
        )
    )


def _judge_hold(work: Work, checklist: Checklist, hold: HoldPoint, seat: Seat) -> None:
    if work.truth(hold.until) is not True:
        text = in_words(work.deck, hold.until)
        work.slip(Slip.WRONG_TIME, checklist.id, seat, f"held until {text}", "read on past the hold")


def answer(work: Work, i: inp.Answer) -> None:
    item = work.deck.items.get(i.line)
    checklist = work.program.list_of_line.get(i.line)
    if item is None or checklist is None:
        work.refuse(i.line, "this deck has no such line", i.seat)
        return
    state = work.state(item.id)
    status = work.session.list(checklist.id).status
    again = work.session.list(checklist.id).reread == item.id
    if status is not ListStatus.CALLED or state.read_at is None:
        work.refuse(item.id, "its challenge has not been read", i.seat)
        return
    if state.is_done and not again:
        work.refuse(item.id, "it has been answered", i.seat)
        return
    judge.judge_seat(work, item.id, item.by, i.seat)
    if i.seat in state.partly and item.by is Owner.BOTH:
        work.slip(Slip.REPEATED, item.id, i.seat, "one answer from each pilot", "the same pilot answered twice")
        return
    _judge_pace(work, checklist, item, i.seat)
    if not _judge_words(work, item, i):
        assert i.value is not None  # the words of the card are never refused
        work.emit(ev.AnswerNotTaken(at=work.now, checklist=checklist.id, line=item.id, seat=i.seat, value=i.value))
        return
    _judge_proof(work, item, i.seat)
    closed = item.by is not Owner.BOTH or bool(state.partly)
    work.emit(
        ev.LineAnswered(at=work.now, checklist=checklist.id, line=item.id, seat=i.seat, value=i.value, closed=closed)
    )


def _judge_pace(work: Work, checklist: Checklist, item: Item, seat: Seat) -> None:
    """Faster than a look, or several in one burst. Means nothing for one person, or faster than time."""
    policy = work.deck.policy
    if work.session.solo or work.session.pace > 1:
        return
    read_at = work.state(item.id).read_at
    if read_at is not None and work.now - read_at < policy.look_s * 1000:
        work.slip(
            Slip.ROTE,
            item.id,
            seat,
            f"at least {policy.look_s:g} s to look",
            f"answered after {(work.now - read_at) / 1000:.1f} s",
        )
    answered = work.session.list(checklist.id).answered
    burst = policy.burst_lines - 1
    if len(answered) >= burst and work.now - answered[-burst] < policy.burst_s * 1000:
        earlier = work.open_slip(checklist.id, Slip.CHUNKED)
        if earlier is None or earlier.at < answered[-burst]:
            work.slip(
                Slip.CHUNKED,
                checklist.id,
                seat,
                "one challenge, one answer",
                f"{policy.burst_lines} lines in {(work.now - answered[-burst]) / 1000:.1f} s",
            )


def _judge_words(work: Work, item: Item, i: inp.Answer) -> bool:
    """Whether the answer closes the line. A vague word never does where a value or state exists."""
    if i.value is None:
        return True
    said = judge.show(i.value)
    asked = work.filled(item.to)
    wanted = work.value(item.value) if item.value is not None else None
    if said.strip().casefold() in VAGUE and said.strip().casefold() != asked.strip().casefold():
        work.slip(Slip.NONSTANDARD_RESPONSE, item.id, i.seat, asked, f"'{said}'", cures=(item.id,))
        return False
    if item.value is None:
        if judge.matches(i.value, asked):
            return True
        work.slip(Slip.NONSTANDARD_RESPONSE, item.id, i.seat, asked, f"'{said}'", cures=(item.id,))
        return False
    if wanted is None or judge.matches(i.value, wanted):
        return True
    work.slip(
        Slip.UNVERIFIED, item.id, i.seat, f"{judge.show(wanted)}, as the aircraft shows", f"'{said}'", cures=(item.id,)
    )
    return False


def _judge_proof(work: Work, item: Item, seat: Seat) -> None:
    """What the line verifies must be done, and the aircraft must not show otherwise."""
    undone = tuple(
        ref for ref in item.verifies if not work.fulfilled(ref) and work.state(ref).status is not Status.DEFERRED
    )
    if undone:
        names = ", ".join(work.title(ref) for ref in undone)
        work.slip(Slip.UNVERIFIED, item.id, seat, f"{names} done", "answered while it is not", cures=undone)
    elif item.seen is not None and work.truth(item.seen) is False and _shown_since(work, item):
        work.slip(
            Slip.UNVERIFIED,
            item.id,
            seat,
            in_words(work.deck, item.seen),
            "answered while the aircraft shows otherwise",
            cure_when=item.seen,
        )
    if item.point and not work.state(item.id).pointed:
        work.slip(Slip.UNVERIFIED, item.id, seat, "pointed at before the answer", "answered without pointing")


def _shown_since(work: Work, line: Item) -> bool:
    """Whether it was heard after what the line verifies had time to be done: an older reading contradicts nobody.

    What is still on its way is shown as it is now. A switch that takes the power away is not shown any more.
    """
    assert line.seen is not None
    there = 0
    for ref in line.verifies:
        done_at = work.state(ref).done_at if work.state(ref).is_done else None
        if done_at is not None and ref in work.deck.items:
            there = max(there, done_at + travel_ms(work.deck.items[ref]))
    return work.now < there or work.heard_since(line.seen, there - 1)


def skip(work: Work, i: inp.SkipLine) -> None:
    """Pass over a line. Kept as a skipped line; `omitted` when the list ends without it."""
    checklist = _find(work, i.checklist, i.seat)
    if checklist is None:
        return
    line = next_line(work, checklist)
    if line is None or work.session.list(checklist.id).status is not ListStatus.CALLED:
        work.refuse(checklist.id, "there is no line to pass over", i.seat)
        return
    work.emit(ev.LineSkipped(at=work.now, checklist=checklist.id, line=line.id, seat=i.seat))


def hold(work: Work, i: inp.HoldList) -> None:
    """Either pilot may hold a list, aloud."""
    checklist = _find(work, i.checklist, i.seat)
    if checklist is None:
        return
    state = work.session.list(checklist.id)
    if not state.is_running:
        work.refuse(checklist.id, "it is not being read", i.seat)
        return
    point = hold_before(work, checklist, next_line(work, checklist))
    name = point.id if point is not None else ""
    work.emit(ev.ListHeld(at=work.now, checklist=checklist.id, seat=i.seat, hold=name, why=i.why))


def resume(work: Work, i: inp.ResumeList) -> None:
    """Go on at the line last done, said again; or from the top."""
    checklist = _find(work, i.checklist, i.seat)
    if checklist is None:
        return
    state = work.session.list(checklist.id)
    if state.status is not ListStatus.HELD:
        work.refuse(checklist.id, "it is not on hold", i.seat)
        return
    judge.judge_seat(work, checklist.id, checklist.read_by, i.seat)
    point = next((h for h in checklist.holds if h.id == state.hold), None)
    if point is not None:
        _judge_hold(work, checklist, point, i.seat)
    closed = [item.id for item in owed_lines(work, checklist) if work.state(item.id).is_done]
    last = max(closed, key=lambda ref: work.state(ref).done_at or 0) if closed else ""
    work.emit(
        ev.ListResumed(
            at=work.now,
            checklist=checklist.id,
            seat=i.seat,
            line="" if i.restart else last,
            restart=i.restart,
            lines=checklist.lines if i.restart else (),
        )
    )


def complete(work: Work, i: inp.CompleteList) -> None:
    """The completion call: the last line, spoken by the reader."""
    checklist = _find(work, i.checklist, i.seat)
    if checklist is None:
        return
    state = work.session.list(checklist.id)
    if state.status is ListStatus.COMPLETE:
        work.slip(Slip.REPEATED, checklist.id, i.seat, "once", "called complete again")
        return
    judge.judge_seat(work, checklist.id, checklist.read_by, i.seat)
    late = work.open_slip(checklist.id, Slip.NO_COMPLETION)
    _judge_ending(work, checklist, state, i.seat)
    deferred = tuple(
        ref
        for line in owed_lines(work, checklist)
        for ref in line.verifies
        if work.state(ref).status is Status.DEFERRED
    )
    work.emit(ev.ListCompleted(at=work.now, checklist=checklist.id, seat=i.seat, exceptions=deferred))
    if late is not None:
        work.trap(late, i.seat)


def _judge_ending(work: Work, checklist: Checklist, state: ListState, seat: Seat) -> None:
    open_hold = next((h for h in checklist.holds if h.id == state.hold), None)
    if state.status is ListStatus.HELD and open_hold is not None:
        _judge_hold(work, checklist, open_hold, seat)
    lines = owed_lines(work, checklist)
    unread = [item for item in lines if work.state(item.id).read_at is None and not work.state(item.id).skipped]
    two_people = not work.session.solo and work.session.pace <= 1
    shortest = len(lines) * work.deck.policy.look_s * 1000
    too_fast = two_people and state.called_at is not None and work.now - state.called_at < shortest
    if unread or too_fast:
        actual = f"{len(unread)} of {len(lines)} lines never read" if unread else "faster than it can be read"
        work.slip(Slip.FROM_MEMORY, checklist.id, seat, "every line read", actual)
    for item in lines:
        line = work.state(item.id)
        if line.skipped or (line.read_at is not None and not line.is_done):
            actual = "passed over" if line.skipped else "read and not answered"
            work.slip(Slip.OMITTED, item.id, seat, f"{item.do}: {work.filled(item.to)}", actual, cures=(item.id,))
