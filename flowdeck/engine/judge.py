"""Judging one action at the moment it happens, whether a pilot said it or a signal showed it."""

from math import isfinite

from flowdeck.engine.words import in_words, unit_text
from flowdeck.engine.work import Work
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Edge, Item, ItemKind
from flowdeck.model.deviation import Slip
from flowdeck.model.seats import Owner, Seat
from flowdeck.model.session import ListStatus
from flowdeck.model.signals import SignalKind

_WAS_KEYED = " was keyed"


def judge_order(work: Work, item: Item, seat: Seat | None) -> None:
    """Edges and limits that this action breaks. Hard ones are `out_of_order`, panel order is `flow_order`."""
    judge_edges(work, item.id, item.after, seat)
    for need in item.needs:
        if work.truth(need.that) is False:
            text = in_words(work.deck, need.that)
            work.slip(
                Slip.OUT_OF_ORDER,
                item.id,
                seat,
                f"{work.title(item.id)} only while {text}",
                "done while that was not so",
                reason=need.reason,
                kind=need.kind,
            )


def judge_edges(work: Work, ref: str, edges: tuple[Edge, ...], seat: Seat | None) -> None:
    hard, flow = work.broken_edges(edges)
    for edge in hard:
        work.slip(
            Slip.OUT_OF_ORDER,
            ref,
            seat,
            f"{work.title(edge.before)} first",
            f"{work.title(ref)} came before it",
            reason=edge.reason,
            kind=edge.kind,
            cures=(edge.before,),
        )
    if flow and not hard:
        edge = flow[0]
        work.slip(
            Slip.FLOW_ORDER,
            ref,
            seat,
            f"{work.title(edge.before)} first, by the order of the panel",
            f"{work.title(ref)} came before it",
            reason=edge.reason,
            cures=tuple(e.before for e in flow),
        )


def judge_seat(work: Work, ref: str, owner: Owner, seat: Seat) -> bool:
    """Whether *seat* may act for *owner*; a `wrong_seat` deviation if not."""
    seats = owner.seats(work.session.flying)
    if seat in seats:
        return True
    work.slip(Slip.WRONG_SEAT, ref, seat, f"{seats[0].label}", f"{seat.label} did it")
    return False


def judge_read_do(work: Work, item: Item, seat: Seat | None) -> None:
    """The action comes after the challenge that should only verify it."""
    for line in work.program.verified_by.get(item.id, ()):
        checklist = work.program.list_of_line[line.id]
        state = work.state(line.id)
        running = work.session.list(checklist.id).status is ListStatus.CALLED
        if checklist.mode == "verify" and running and state.read_at is not None and not state.is_done:
            work.slip(
                Slip.READ_DO,
                item.id,
                seat,
                f"done before its line of the {checklist.title} is read",
                "done after the challenge",
            )


def judge_call(work: Work, item: Item, seat: Seat) -> None:
    """Whether a call or an answer comes in its time."""
    state = work.state(item.id)
    if state.overdue or work.reached(item.late, state.opened_at):
        number = work.slip(Slip.CALL_LATE, item.id, seat, "said in its window", "said after it")
        work.trap(work.session.deviations[number - 1], seat)
    elif state.prompted and seat not in work.session.sealed and _prompts_are_shown(work):
        number = work.slip(Slip.CALL_PROMPTED, item.id, seat, "said before any prompt", "said after the prompt")
        work.trap(work.session.deviations[number - 1], seat)


def _prompts_are_shown(work: Work) -> bool:
    return not work.session.withhold and work.session.aid == "guided"


def judge_early(work: Work, item: Item, seat: Seat) -> None:
    """A tick before the window opens. Phases that are over have no windows left to wait for."""
    if not work.not_started(item.id):
        return
    passed = any(phase in item.phases for phase, _ in work.session.visited)
    if passed and work.session.phase not in item.phases:
        return
    text = "" if item.opens is None else f" ({in_words(work.deck, item.opens)})"
    work.slip(
        Slip.EARLY,
        item.id,
        seat,
        f"{work.title(item.id)} once its window is open{text}",
        "done before that",
        reason=item.early,
    )


def judge_value(work: Work, item: Item, seat: Seat, value: object) -> bool:
    """Whether it is right. One that is not the one asked for shows at once, before the control has travelled."""
    wanted = wanted_value(work, item)
    if value is None or wanted is None or matches(value, wanted):
        return True
    work.slip(
        Slip.UNVERIFIED,
        item.id,
        seat,
        f"{item.do} {show(wanted)}",
        f"{show(value)}{_WAS_KEYED}",
        cure_when=item.seen,
    )
    return False


def put_right(work: Work, item: Item, seat: Seat) -> None:
    """The right value has been keyed after wrong ones: where no signal will prove it, that is their correction."""
    for deviation in work.session.deviations:
        of_value = deviation.item == item.id and deviation.actual.endswith(_WAS_KEYED)
        if of_value and deviation.is_open and deviation.cure_when is None:
            work.trap(deviation, seat)


def unfit_value(work: Work, item: Item, value: Scalar | None) -> str:
    """What is wrong with a keyed value that its signal cannot read at all; empty when it can."""
    signal = work.program.signals.get(item.value or "")
    if value is None or signal is None or signal.kind is not SignalKind.NUMBER:
        return ""
    low, high = signal.low, signal.high
    number = as_number(value)
    if number is not None and (low is None or low <= number) and (high is None or number <= high):
        return ""
    ends = "" if low is None or high is None else f" from {low:g} to {high:g}"
    return f"expected a number{ends}{unit_text(signal.unit)}, '{show(value)}' was keyed"


def as_number(value: Scalar) -> float | None:
    """A value as the number it says; None for a word."""
    if isinstance(value, bool):
        return None
    try:
        found = float(value)
    except ValueError:
        return None
    return found if isfinite(found) else None


def wanted_value(work: Work, item: Item) -> object | None:
    """The right value of a value item: what its move asks for, else the reading of its signal."""
    if item.value is None:
        return None
    for move in item.moves:
        if move.signal == item.value:
            return work.value(move.same_as) if move.same_as is not None else move.to
    return work.value(item.value)


def matches(given: object, wanted: object) -> bool:
    """Equal as said: whole numbers to the nearest one, fractions to 0.005, words without regard to case."""
    if isinstance(given, str) and isinstance(wanted, (int, float)) and not isinstance(wanted, bool):
        try:
            given = float(given)
        except ValueError:
            return False
    if isinstance(given, (int, float)) and isinstance(wanted, (int, float)):
        whole = abs(wanted) >= 200 or float(wanted).is_integer()
        return abs(given - wanted) < (0.5 if whole else 0.005)
    return str(given).strip().casefold() == str(wanted).strip().casefold()


def show(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def close_seen(work: Work, item: Item) -> bool:
    """Whether the aircraft shows the item's state now."""
    return item.seen is not None and work.truth(item.seen) is True and item.kind is not ItemKind.LINE
