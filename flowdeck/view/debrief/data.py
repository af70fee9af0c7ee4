"""A debrief as plain data for JSON: stable keys, units in their names, null where a thing is not applicable."""

from typing import Any

from flowdeck import DISCLAIMER
from flowdeck.debrief.counts import Calls
from flowdeck.debrief.lists import Reading
from flowdeck.debrief.slips import Slipped
from flowdeck.debrief.study import Debrief
from flowdeck.debrief.timeline import Kind
from flowdeck.view.debrief.lapses import lapse_data
from flowdeck.view.sentences import sentence


def debrief_data(d: Debrief, begun: str) -> dict[str, Any]:
    who = d.deck.identity
    return {
        "notice": DISCLAIMER,
        "deck": {
            "id": d.deck.id,
            "title": who.title,
            "version": who.version,
            "date": who.date,
            "status": who.status,
            "effectivity": who.effectivity,
            "hash": d.deck.hash,
        },
        "scenario": {"id": d.scenario.id, "title": d.scenario.title},
        "begun": begun or None,
        "end": d.end or None,
        "length_ms": d.length_ms,
        "one_person": d.solo,
        "phases": [{"phase": s.phase, "how": s.how, "from_ms": s.at, "to_ms": s.until} for s in d.spans],
        "deviations": [_slip(d, s) for s in d.slips],
        "classes": [
            {
                "class": str(c.slip),
                "count": c.count,
                "opportunities": c.chances,
                "trapped_by_maker": c.by_maker,
                "trapped_by_other_seat": c.by_other,
                "trapped_by_tool": c.by_tool,
                "untrapped": c.untrapped,
            }
            for c in d.classes
        ],
        "calls": _calls(d.calls),
        "answers": _calls(d.answers),
        "replies": None
        if d.replies is None
        else {
            "count": d.replies.count,
            "median_s": d.replies.median_s,
            "least_s": d.replies.least_s,
            "most_s": d.replies.most_s,
            "faster_than_a_look": d.replies.under_look,
            "look_s": d.deck.policy.look_s,
        },
        "evidence": {"seen": d.proof.seen, "said": d.proof.said, "said_that_could_be_seen": d.proof.could_show},
        "lists": [_reading(r) for r in d.readings],
        "gates": [
            {
                "gate": g.gate,
                "phase": g.phase,
                "at_ms": g.at,
                "answer": g.answer,
                "answered_ms": g.answered_at,
                "failing": list(g.failing),
            }
            for g in d.crew.gates
        ],
        "deferred": [
            {
                "item": life.item,
                "at_ms": put_off.at,
                "seat": str(put_off.seat),
                "cue": put_off.cue,
                "back_ms": put_off.back_at,
                "came_ms": put_off.came_at,
                "done_ms": life.done_at,
            }
            for life in d.lives
            for put_off in life.deferrals
        ],
        "interruptions": [
            {"at_ms": b.at, "until_ms": b.until, "words": b.words, "safety": b.safety} for b in d.crew.breaks
        ],
        "transfers": [
            {
                "at_ms": t.at,
                "by": str(t.by),
                "taken_ms": t.taken_at,
                "confirmed_ms": t.confirmed_at,
                "flying": None if t.flying is None else str(t.flying),
                "seized": t.seized,
            }
            for t in d.crew.transfers
        ],
        "challenges": [
            {"at_ms": c.at, "seat": str(c.seat), "about": c.about, "replied_ms": c.replied_at, "missed": c.missed}
            for c in d.crew.challenges
        ],
        "played": [str(seat) for seat in d.played],
        "lapses": [lapse_data(lapse) for lapse in d.lapses],
        "notes": [{"at_ms": e.at, "words": e.words} for e in d.timeline if e.kind is Kind.NOTE],
        "workload": [
            {"minute": m.minute, "captain_acts": m.captain, "first_officer_acts": m.first_officer} for m in d.minutes
        ],
        "path": [
            [{"at_ms": p.at, "distance_nm": p.distance_nm, "altitude_ft": p.altitude_ft} for p in line]
            for line in d.flown.lines
        ],
        "planned_path": [
            {
                "title": plan.title,
                "minimum_ft": plan.minimum_ft,
                "points": [{"distance_nm": nm, "altitude_ft": ft} for line in plan.lines for nm, ft in line],
            }
            for plan in d.flown.planned
        ],
        "timeline": [
            {
                "at_ms": e.at,
                "kind": str(e.kind),
                "seat": None if e.seat is None else str(e.seat),
                "ref": e.ref or None,
                "words": e.words,
                "deviation": e.deviation or None,
            }
            for e in d.timeline
        ],
    }


def _slip(d: Debrief, s: Slipped) -> dict[str, Any]:
    dev = s.deviation
    return {
        "number": dev.number,
        "class": str(dev.slip),
        "severity": str(dev.severity),
        "seat": None if dev.seat is None else str(dev.seat),
        "flying": str(s.flying),
        "item": dev.item,
        "phase": dev.phase,
        "at_ms": dev.at,
        "sentence": sentence(d.deck, dev),
        "expected": dev.expected,
        "actual": dev.actual,
        "reason": dev.reason,
        "why": s.why,
        "trapped_by": None if dev.trapped_by is None else str(dev.trapped_by),
        "trapped_ms": dev.trapped_at,
    }


def _calls(c: Calls) -> dict[str, int]:
    return {"owed": c.owed, "on_time": c.on_time, "prompted": c.prompted, "late": c.late, "missed": c.missed}


def _reading(r: Reading) -> dict[str, Any]:
    return {
        "list": r.checklist,
        "phase": r.phase,
        "opened_ms": r.opened_at,
        "called_ms": r.called_at,
        "called_by": None if r.called_by is None else str(r.called_by),
        "prompted": r.prompted,
        "completed_ms": r.completed_at,
        "read": list(r.read),
        "passed_over": list(r.skipped),
        "answers": [
            {"line": x.line, "read_ms": x.read_at, "at_ms": x.at, "seat": str(x.seat), "value": x.value}
            for x in r.replies
        ],
        "holds": [
            {"at_ms": h.at, "until_ms": h.until, "point": h.point, "why": h.why, "spoken": h.spoken, "ended_by": h.way}
            for h in r.holds
        ],
    }
