"""A debrief in words and rows, the same for the terminal, the page and paper.

The law: a count always stands beside its opportunities; what this flight cannot tell is said to be not applicable,
and why; no share is given of few. Nothing here grades a person.
"""

from collections import Counter
from typing import NamedTuple

from flowdeck.debrief.counts import SPOKEN, Calls, call_kept
from flowdeck.debrief.slips import Slipped
from flowdeck.debrief.study import ClassCount, Debrief
from flowdeck.debrief.timeline import Kind
from flowdeck.debrief.yardsticks import YARDSTICKS
from flowdeck.engine.words import title
from flowdeck.model.deviation import MEANING, Severity
from flowdeck.model.seats import Seat
from flowdeck.view.columns import Table
from flowdeck.view.debrief.lapses import lapses_line, lapses_table
from flowdeck.view.sentences import sentence
from flowdeck.view.words import clock, deck_line, safe

NOT_SOLO = "n/a"
"""What one person in both seats cannot give."""


class SlipWords(NamedTuple):
    """One deviation for a reader. *trapped*: by whom and after how long, or that nobody did."""

    number: int
    at: str
    severity: Severity
    kind: str
    meaning: str
    seat: str
    sentence: str
    expected: str
    actual: str
    reason: str
    trapped: str


def heading(d: Debrief, begun: str) -> tuple[str, ...]:
    """What was flown, on which deck, by how many, and how it ended."""
    people = "one person in both seats" if d.solo else "two pilots"
    if d.played:
        people = f"two pilots, the {' and the '.join(seat.label.lower() for seat in d.played)} played by the tool"
    ended = f"ended {d.end.replace('_', ' ')}" if d.end else "not flown to its end"
    when = f"flown {begun[:16].replace('T', ' ')}, " if begun else ""
    return safe(deck_line(d.deck)), safe(f"{when}{length(d.length_ms)}, {people}, {ended}")


def length(ms: int) -> str:
    """`32 min 28 s`, `6 s`."""
    seconds = round(ms / 1000)
    return f"{seconds // 60} min {seconds % 60} s" if seconds >= 60 else f"{seconds} s"


def glance(d: Debrief) -> list[tuple[str, str]]:
    """What is looked at first: a title and a sentence each."""
    rows = [("Deviations", _deviations(d)), ("Trapped", _trapped(d)), ("Calls", _calls(d.calls))]
    if d.slips and not d.solo:
        rows.insert(2, ("Trapped, by watch", _by_watch(d)))
    if d.played:
        rows.insert(1, ("Lapses on purpose", lapses_line(d)))
    if d.answers.owed:
        rows.append(("Answers to calls", _calls(d.answers)))
    called = [r for r in d.readings if r.called_at is not None]
    owed = sum(r.was_owed for r in d.readings)
    complete = sum(r.completed_at is not None for r in called)
    rows.append(("Checklists", f"{len(called)} of {owed} called, {complete} of {len(called)} called complete"))
    rows.append(("Gates", _gates(d)))
    if d.solo:
        rows.append(("Replies to lines", f"{NOT_SOLO}: one person answers himself"))
    elif d.replies is not None:
        r = d.replies
        look = f"{r.under_look} of {r.count} faster than a look ({d.deck.policy.look_s:g} s)"
        rows.append(("Replies to lines", f"median {r.median_s:.1f} s, {r.least_s:.1f} to {r.most_s:.1f} s; {look}"))
    p = d.proof
    could = f"; of these {p.could_show} could have been seen" if p.could_show else ""
    rows.append(("Evidence", f"{p.seen} of {p.seen + p.said} acts seen by the aircraft, {p.said} only said{could}"))
    return rows


def _deviations(d: Debrief) -> str:
    by = Counter(s.deviation.severity for s in d.slips)
    if not d.slips:
        return "none"
    parts = [
        f"{by[severity]} {word if by[severity] == 1 else words}"
        for severity, word, words in (
            (Severity.WARNING, "warning", "warnings"),
            (Severity.CAUTION, "caution", "cautions"),
            (Severity.ADVICE, "advice", "advice"),
        )
        if by[severity]
    ]
    return f"{len(d.slips)}: {', '.join(parts)}"


def _trapped(d: Debrief) -> str:
    if not d.slips:
        return "nothing to trap"
    found = [s.latency_ms for s in d.slips if s.latency_ms is not None]
    maker, tool = (sum(getattr(c, name) for c in d.classes) for name in ("by_maker", "by_tool"))
    other = NOT_SOLO if d.solo else str(sum(c.by_other or 0 for c in d.classes))
    words = f"{len(found)} of {len(d.slips)} before the next gate: "
    words += f"by the maker {maker}, the other pilot {other}, the tool {tool}"
    if not found:
        return words
    least, most = length(min(found)), length(max(found))
    return f"{words}; after {least if least == most else f'{least} to {most}'}"


def _by_watch(d: Debrief) -> str:
    """Of the slips made while each of them monitored, those that were put right before the next gate."""
    parts = []
    for seat in Seat:
        mine = [s for s in d.slips if s.flying.other is seat]
        if mine:
            trapped = sum(s.latency_ms is not None for s in mine)
            parts.append(f"{trapped} of {len(mine)} while the {seat.label.lower()} monitored")
    return ", ".join(parts)


def _calls(calls: Calls) -> str:
    if not calls.owed:
        return "none owed"
    parts = [f"{calls.on_time} of {calls.owed} on time"]
    for count, word in ((calls.prompted, "after the prompt"), (calls.late, "late"), (calls.missed, "missed")):
        if count:
            parts.append(f"{count} {word}")
    return ", ".join(parts)


def _gates(d: Debrief) -> str:
    gates = d.crew.gates
    if not gates:
        return "none met"
    by: Counter[str] = Counter(gate.answer for gate in gates)
    parts = [f"{by['passed']} of {len(gates)} passed"]
    for answer, word in (("mended", "not passed and answered"), ("overrun", "gone past"), ("failed", "left open")):
        if by[answer]:
            parts.append(f"{by[answer]} {word}")
    return ", ".join(parts)


def slip_words(d: Debrief, slipped: Slipped) -> SlipWords:
    dev = slipped.deviation
    if dev.trapped_by is None:
        trapped = "not caught before the next gate"
    else:
        assert slipped.latency_ms is not None
        trapped = f"put right by the {dev.trapped_by.replace('_', ' ')} after {length(slipped.latency_ms)}"
    return SlipWords(
        number=dev.number,
        at=clock(dev.at),
        severity=dev.severity,
        kind=dev.slip.replace("_", " "),
        meaning=MEANING[dev.slip],
        seat="" if dev.seat is None else dev.seat.label,
        sentence=sentence(d.deck, dev),
        expected=safe(dev.expected),
        actual=safe(dev.actual),
        reason=safe(dev.reason or slipped.why),
        trapped=trapped,
    )


def tables(d: Debrief) -> list[Table]:
    """Every table but that of the timeline; those with nothing in them are left out."""
    makers = (
        lapses_table,
        _classes,
        _gate_table,
        _lists,
        _holds,
        _calls_table,
        _deferred,
        _control,
        _spoken_up,
        _notes,
    )
    return [table for table in (make(d) for make in makers) if table.rows]


def _classes(d: Debrief) -> Table:
    rows = tuple(
        (
            c.slip.replace("_", " "),
            str(c.count),
            NOT_SOLO if c.chances is None else str(c.chances),
            *(_who_trapped(c) if c.count else ("", "", "", "")),
        )
        for c in d.classes
        if c.count or c.chances is None or c.chances
    )
    heads = ("<class", "n", "of", "maker", "other pilot", "tool", "not caught")
    note = "n of how often it could have happened; then who put it right before the next gate"
    return Table("What slipped, by class", heads, rows, note)


def _who_trapped(c: ClassCount) -> tuple[str, str, str, str]:
    other = NOT_SOLO if c.by_other is None else str(c.by_other)
    return str(c.by_maker), other, str(c.by_tool), str(c.untrapped)


def _at(ms: int | None) -> str:
    return "-" if ms is None else clock(ms)


def _lists(d: Debrief) -> Table:
    rows = tuple(
        (
            safe(title(d.deck, r.checklist)),
            _at(r.opened_at),
            _at(r.called_at),
            "-" if r.called_by is None else r.called_by.label,
            str(len({reply.line for reply in r.replies})),
            _at(r.completed_at),
            length(r.completed_at - r.called_at) if r.completed_at is not None and r.called_at is not None else "-",
        )
        for r in d.readings
        if r.was_owed
    )
    return Table("Checklists", ("<list", "open", "called", "<by", "lines", "complete", "took"), rows)


def _holds(d: Debrief) -> Table:
    rows = tuple(
        (
            clock(hold.at),
            safe(title(d.deck, r.checklist)),
            "no" if not hold.spoken else "yes",
            "-" if hold.until is None else length(hold.until - hold.at),
            hold.way,
            safe(hold.why or _point(d, r.checklist, hold.point)),
        )
        for r in d.readings
        for hold in r.holds
    )
    note = "a list that waited long is read from the top; after a short hold the last line is read again"
    return Table("Holds", ("at", "<list", "<spoken", "length", "<ended by", "<because"), rows, note)


def _point(d: Debrief, checklist: str, point: str) -> str:
    return next((hold.title for hold in d.deck.checklists[checklist].holds if hold.id == point), point)


def _gate_table(d: Debrief) -> Table:
    words = {"passed": "passed", "mended": "answered", "overrun": "gone past", "failed": "left open"}
    rows = tuple(
        (
            clock(gate.at),
            safe(title(d.deck, gate.gate)),
            words[gate.answer],
            "" if gate.answered_at is None else length(gate.answered_at - gate.at),
            safe(", ".join(gate.failing)),
        )
        for gate in d.crew.gates
    )
    return Table("Gates", ("at", "<gate", "<", "after", "<was not so"), rows)


def _calls_table(d: Debrief) -> Table:
    """The calls that were not made on time, one by one: a mean hides a single bad one."""
    rows = tuple(
        (
            _at(life.opened_at),
            safe(title(d.deck, life.item)),
            "-" if life.seat is None else life.seat.label,
            {"late": "late", "missed": "missed", "prompted": "after the prompt"}[kept],
            "-" if life.done_at is None or life.opened_at is None else length(life.done_at - life.opened_at),
        )
        for life in d.lives
        if life.kind in SPOKEN and life.was_owed and (kept := call_kept(life)) not in ("on_time", "open")
    )
    return Table("Calls not on time", ("open", "<call", "<by", "<", "after"), rows)


def _deferred(d: Debrief) -> Table:
    rows = tuple(
        (
            clock(put_off.at),
            safe(title(d.deck, life.item)),
            put_off.seat.label,
            safe(d.deck.cues[put_off.cue].title if put_off.cue in d.deck.cues else "a time"),
            _at(put_off.came_at),
            _at(life.done_at),
        )
        for life in d.lives
        for put_off in life.deferrals
    )
    return Table("Put off", ("at", "<item", "<by", "<until", "came", "done"), rows)


def _control(d: Debrief) -> Table:
    rows = tuple(
        (
            clock(t.at),
            "seized" if t.seized else f"offered by the {t.by.label.lower()}",
            _at(t.taken_at),
            _at(t.confirmed_at),
            "-" if t.flying is None else t.flying.label,
        )
        for t in d.crew.transfers
    )
    return Table("Control", ("at", "<", "taken", "confirmed", "<then flying"), rows)


def _spoken_up(d: Debrief) -> Table:
    rows = tuple(
        (
            clock(c.at),
            c.seat.label,
            safe(title(d.deck, c.about)),
            _since_slip(d, c.about, c.at),
            "no answer" if c.replied_at is None else f"answered after {length(c.replied_at - c.at)}",
        )
        for c in d.crew.challenges
    )
    return Table("Spoken up", ("at", "<by", "<about", "after the slip", "<"), rows)


def _since_slip(d: Debrief, ref: str, at: int) -> str:
    """How long after the last slip of the same thing it was spoken of; a dash where there was none."""
    before = [s.deviation.at for s in d.slips if s.deviation.item == ref and s.deviation.at <= at]
    return length(at - max(before)) if before else "-"


def _notes(d: Debrief) -> Table:
    rows = tuple((clock(e.at), safe(e.words)) for e in d.timeline if e.kind is Kind.NOTE)
    return Table("Notes", ("at", "<of the instructor"), rows)


def yardsticks() -> Table:
    rows = tuple((y.about, y.words) for y in YARDSTICKS)
    sources = "; ".join(sorted({f"{y.population} ({y.source})" for y in YARDSTICKS}))
    note = f"{sources}: whole flights of other crews, to think with, not to be graded by"
    return Table("Counts of a line study", ("<of", "<count"), rows, note)


def busiest(d: Debrief) -> str:
    """The minute with most acts, by the seat that had them."""
    best = max(
        ((getattr(m, seat), m.minute, seat) for m in d.minutes for seat in (Seat.CAPTAIN, Seat.FIRST_OFFICER)),
        default=(0, 0, Seat.CAPTAIN),
        key=lambda found: found[0],
    )
    count, minute, seat = best
    return f"busiest: {seat.label.lower()}, {count} acts in the minute from {clock(minute * 60_000)}" if count else ""
