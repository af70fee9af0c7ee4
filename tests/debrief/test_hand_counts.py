"""Calls, replies, evidence and work by the minute, each with its sum in a comment."""

import pytest

from flowdeck.debrief.counts import Calls, Minute, Proof, Replies, calls_of, minutes_of, proof_of, replies_of
from flowdeck.debrief.lists import readings_of
from flowdeck.debrief.lives import lives_of
from flowdeck.model import events as ev
from flowdeck.model.deck import ItemKind
from tests.debrief.by_hand import LIST, started, undoes, whole
from tests.engine.test_slips import DECK, prepared
from tests.support.bench import CPT, FO
from tests.support.slipped import begun

OPENED = ev.ItemOpened(at=0, item="to-go")
PROMPT = ev.Prompted(at=4000, ref="to-go", seat=FO)
LATE = ev.ItemOverdue(at=8000, item="to-go")
MISSED = ev.ItemMissed(at=20_000, item="to-go")


def said(at: int, *, prompted: bool = False) -> ev.ItemDone:
    return ev.ItemDone(at=at, item="to-go", seat=FO, prompted=prompted)


def calls(*events: ev.Event) -> Calls:
    return calls_of(lives_of(DECK, (started(), *events)), ItemKind.CALL)


@pytest.mark.parametrize(
    ("events", "which"),
    [
        ((OPENED, said(2000)), "on_time"),
        ((OPENED, PROMPT, said(5000, prompted=True)), "prompted"),
        ((OPENED, LATE, said(9000)), "late"),
        ((OPENED, PROMPT, LATE, said(9000, prompted=True)), "late"),
        ((OPENED, PROMPT, LATE, MISSED), "missed"),
        ((OPENED, PROMPT, LATE, MISSED, said(25_000, prompted=True)), "missed"),
        ((OPENED, ev.ItemLapsed(at=9000, item="to-go")), "missed"),
        ((OPENED, ev.ItemWithdrawn(at=3000, item="to-go")), None),
        ((OPENED,), None),
        ((OPENED, PROMPT, LATE), None),
    ],
)
def test_a_call_is_one_of_four_or_not_counted(events: tuple[ev.Event, ...], which: str | None) -> None:
    """Late wins over prompted; one that is withdrawn, or open as the journal ends, is none of them."""
    counted = calls(*events)
    sums = {"on_time": counted.on_time, "prompted": counted.prompted, "late": counted.late, "missed": counted.missed}
    assert counted.owed == (0 if which is None else 1)
    assert sums == {name: int(name == which) for name in sums}


def test_calls_are_not_answers() -> None:
    """The minimum and its answer: one call, one answer, both on time."""
    one = Calls(owed=1, on_time=1, prompted=0, late=0, missed=0)
    assert (whole().calls, whole().answers) == (one, one)


def test_three_calls_of_one_kind() -> None:
    """On time, missed, late: owed 3 = 1 + 0 + 1 + 1."""
    again = [ev.ItemReopened(at=0, item="to-go", because="again"), OPENED]
    counted = calls(OPENED, said(2000), *again, LATE, MISSED, *again, LATE, said(9000))
    assert counted == Calls(owed=3, on_time=1, prompted=0, late=1, missed=1)


def replies(*times: float, pace: float = 1.0) -> Replies | None:
    """Gear lines answered after *times* seconds, one each ten seconds."""
    events: list[ev.Event] = [started(), ev.ListCalled(at=0, checklist=LIST, seat=CPT), ev.PaceSet(at=0, pace=pace)]
    for n, time in enumerate(times):
        at = 10_000 * (n + 1)
        events.append(ev.LineRead(at=at, checklist=LIST, line="ll-gear", seat=FO))
        answer = at + round(time * 1000)
        events.append(ev.LineAnswered(at=answer, checklist=LIST, line="ll-gear", seat=CPT))
    return replies_of(DECK, readings_of(DECK, events))


def test_reply_times() -> None:
    """0.8 s is a look (the policy says 0.8), 0.799 is none. The median of four is between the middle two."""
    assert replies(0.8, 0.799, 3.0) == Replies(count=3, median_s=0.8, least_s=0.799, most_s=3.0, under_look=1)
    four = replies(1.0, 4.0, 2.0, 0.5)
    assert four == Replies(count=4, median_s=1.5, least_s=0.5, most_s=4.0, under_look=1)


def test_replies_above_the_pace_of_time_are_not_judged() -> None:
    assert replies(0.3, 0.4, pace=2.0) is None
    assert replies() is None
    assert replies(0.3, 0.4, pace=1.0) == Replies(count=2, median_s=0.35, least_s=0.3, most_s=0.4, under_look=2)


def test_replies_of_a_whole_flight() -> None:
    """Landing list 1.5, 1.5, 2.5 (the first officer, a second after the captain), 1.5; ground list 1.5, 1.5."""
    assert whole().replies == Replies(count=6, median_s=1.5, least_s=1.5, most_s=2.5, under_look=0)


def test_an_undone_answer_leaves_no_time() -> None:
    """0.3 s, taken back."""
    events: list[ev.Event] = [
        started(),
        ev.ListCalled(at=0, checklist=LIST, seat=CPT),
        ev.LineRead(at=1000, checklist=LIST, line="ll-gear", seat=FO),
        ev.LineAnswered(at=1300, checklist=LIST, line="ll-gear", seat=CPT),
        ev.Undone(at=2000, seat=CPT, what="answer", ref=LIST),
    ]
    assert replies_of(DECK, readings_of(DECK, events)) is None


def test_what_was_shown_and_what_was_only_said() -> None:
    """Shown: speed, gear, flap, missed, reverse, brake, cut. Only said: briefing, aids, cabin, papers; none of
    those has a signal."""
    assert whole().proof == Proof(seen=7, said=4, could_show=0)


def test_said_though_it_could_be_shown() -> None:
    """Prepared (brief and aids said, speed shown); a gear that is said at 5.5 s and has not come down 3 s later."""
    f = prepared(begun()).reads(distance_nm=9.0).does(FO, "gear-down").wait(2)
    assert proof_of(f.deck, lives_of(f.deck, f.events)) == Proof(seen=1, said=3, could_show=1)
    f.reads(gear="down")
    assert proof_of(f.deck, lives_of(f.deck, f.events)) == Proof(seen=2, said=2, could_show=0)


def test_what_was_found_or_taken_back_proves_nothing() -> None:
    events = (started(), ev.ItemFound(at=0, item="speed"), ev.ItemOpened(at=0, item="brake"))
    assert proof_of(DECK, lives_of(DECK, events)) == Proof(seen=0, said=0, could_show=0)
    f = undoes(begun().points(FO, "aids").does(FO, "aids"), FO)
    assert proof_of(f.deck, lives_of(f.deck, f.events)) == Proof(seen=0, said=0, could_show=0)


def test_work_by_the_minute() -> None:
    """59.999 s is in the first minute, 60 s in the second; the third is empty and still there."""
    events = (
        started(),
        ev.ItemDone(at=5000, item="speed", seat=CPT),
        ev.ItemPartly(at=59_999, item="brief", seat=FO),
        ev.ListCalled(at=60_000, checklist=LIST, seat=CPT),
        ev.LineRead(at=61_000, checklist=LIST, line="ll-gear", seat=FO),
        ev.LineAnswered(at=62_500, checklist=LIST, line="ll-gear", seat=CPT),
        ev.ListCompleted(at=185_000, checklist=LIST, seat=FO),
        ev.FlightEnded(at=186_000, end="parked"),
    )
    assert minutes_of(events) == (Minute(0, 1, 1), Minute(1, 2, 1), Minute(2, 0, 0), Minute(3, 0, 1))


def test_what_no_seat_did_is_nobodys_work() -> None:
    """Signals, gates and prompts: a minute without an act."""
    events = (
        started(),
        ev.ItemOpened(at=0, item="speed"),
        ev.ItemSeen(at=5000, item="speed"),
        ev.GatePassed(at=6000, gate="stable"),
        ev.Prompted(at=7000, ref="aids", seat=FO),
    )
    assert [(m.captain, m.first_officer) for m in minutes_of(events)] == [(0, 0)]


def test_the_acts_of_a_whole_flight_in_its_one_minute() -> None:
    """36 s. Captain: brief, speed, minimum-answer, reverse, brake 5; two lists called 2; answers ll-gear,
    ll-altimeters, ll-flap, gl-brake 4. First officer: brief, aids, gear, flap, missed, minimum, cabin, cut, papers 9;
    five lines read; answers ll-altimeters, gl-lever 2; two lists complete. Pointing is part of the act it precedes,
    and a fact that is told is none."""
    assert whole().minutes == (Minute(0, 5 + 2 + 4, 9 + 5 + 2 + 2),)
