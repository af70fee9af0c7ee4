"""Between keys and the host: which input a key press means now. No widgets here."""

from collections.abc import Callable
from typing import Literal

from msgspec import Struct

from flowdeck.aircraft.watch import arrival_in_force
from flowdeck.arrival.metar import NotAReport
from flowdeck.arrival.plan import Arrival
from flowdeck.engine.judge import unfit_value
from flowdeck.engine.lists import next_line
from flowdeck.engine.owed import Duty, Owed, owed, to_input
from flowdeck.engine.program import program
from flowdeck.engine.work import Work
from flowdeck.live.host import PACES, why_refused
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Deck, Item, ItemKind
from flowdeck.model.seats import Seat
from flowdeck.model.session import ItemState, ListStatus, Session
from flowdeck.tui.shown import Crewed, Flown
from flowdeck.view.choosing import titled
from flowdeck.view.instruct import HELD_BACK_S, HOLD_BACK
from flowdeck.view.lanes import awaited, next_duty
from flowdeck.view.values import Choice, choices
from flowdeck.view.words import title

_READING = (Duty.READ, Duty.ANSWER, Duty.HOLD, Duty.RESUME, Duty.COMPLETE, Duty.REPLY)
_CONTROL = (Duty.TAKE_CONTROL, Duty.CONFIRM_CONTROL, Duty.ANSWER_CALL)


class Question(Struct, frozen=True, kw_only=True):
    """A value is asked of *seat* for an item or line: three choices, or one that is keyed."""

    seat: Seat
    item: str
    asked: str
    choices: tuple[Choice, ...]
    line: bool


class Desk:
    """What the keys do. *picked* is the item chosen by hand, empty when the lanes lead.

    A key acts for the seat whose turn it is where both are the onlooker's own, and for the own one otherwise.
    """

    def __init__(self, host: Flown) -> None:
        self.host = host
        self.picked = ""
        self.kept: dict[Seat, str] = {}
        self.refused = ""

    def _send(self, input_: inp.Input) -> None:
        """Send it; what was refused is kept as the word for the crew."""
        self.refused = why_refused(self.host.send(input_)) or self.refused

    def refusal(self) -> str:
        """Why the last input was refused, once."""
        words, self.refused = self.refused, ""
        return words

    @property
    def deck(self) -> Deck:
        return self.host.flight.deck

    @property
    def session(self) -> Session:
        return self.host.flight.session

    @property
    def own(self) -> tuple[Seat, ...]:
        """The seats whose keys are here."""
        return self.host.vantage.own

    def _mine(self, seat: Seat) -> Seat:
        """*seat*, or the only own one in its place."""
        return seat if seat in self.own or not self.own else self.own[0]

    def _is_foreign(self, seat: Seat) -> bool:
        return self.host.vantage.is_foreign(seat)

    def duty(self, seat: Seat) -> Owed | None:
        """What this seat's key does now when nothing is picked."""
        mine = [d for d in owed(self.deck, self.session) if d.seat is seat]
        if self.session.aid == "drill":
            mine = [d for d in mine if d.duty in _READING or d.duty in _CONTROL]
        return next_duty(mine, self.kept.get(seat, ""))

    def press(self, seat: Seat) -> Question | str:
        """The seat's key. Returns a question, or a word for the crew when nothing could be done."""
        if self._is_foreign(seat):
            return f"{seat.label}: {self.host.vantage.hands.get(seat) or 'not yours'}; [k] speaks up"
        if self.picked:
            return self._press_picked(seat)
        duty = self.duty(seat)
        if duty is None:
            drill = self.session.aid == "drill"
            return "drill: pick an item first" if drill else self._idle(seat)
        if duty.duty in (Duty.DO, Duty.ANSWER):
            question = self._question(seat, self.deck.items[duty.ref])
            if question is not None:
                return question
        self._send(to_input(duty, self.host.now))
        return ""

    def _idle(self, seat: Seat) -> str:
        """Why this seat's key does nothing now."""
        mine = [d for d in owed(self.deck, self.session) if d.seat is seat]
        waiting = next((d for d in mine if d.waits_for or d.panel_first), None)
        if waiting is None:
            return f"{seat.label}: nothing to do now"
        what = self._titled(waiting.ref) if waiting.ref in self.deck.items else title(self.deck, waiting.ref)
        first = (*waiting.waits_for, *waiting.panel_first)[0]
        waits = awaited(self.deck, self.session, self.host.vantage, first)
        return f"{seat.label}: {what} waits ({waits}); / does it all the same"

    def _press_picked(self, seat: Seat) -> Question | str:
        ref = self.picked
        if ref in self.deck.checklists:
            self.picked = ""
            self._send(inp.CallList(at=self.host.now, seat=seat, checklist=ref))
            return ""
        question = self._question(seat, self.deck.items[ref])
        if question is not None:
            return question
        self.answer(seat, ref, None)
        return ""

    def _question(self, seat: Seat, item: Item) -> Question | None:
        flight = self.host.flight
        three = choices(self.deck, self.session, flight.readings, flight.now, item)
        if not three:
            return None
        is_line = item.kind is ItemKind.LINE
        return Question(seat=seat, item=item.id, asked=item.do, choices=three, line=is_line)

    def unfit(self, question: Question) -> Callable[[Scalar], str]:
        """What says why a keyed value cannot be that of an item; a line takes any words, and they are judged."""
        work = self.work()
        item = self.deck.items[question.item]
        return lambda value: "" if question.line else unfit_value(work, item, value)

    def answer(self, seat: Seat, ref: str, value: Scalar | None) -> None:
        """Do an item, or answer a line, with the value that was chosen or keyed."""
        self.picked = ""
        at = self.host.now
        if self.deck.items[ref].kind is ItemKind.LINE:
            self._send(inp.Answer(at=at, seat=seat, line=ref, value=value))
        else:
            self._send(inp.Act(at=at, seat=seat, item=ref, value=value))

    def work(self) -> Work:
        """The flight at this moment, for looking only."""
        flight = self.host.flight
        return Work(program(self.deck), self.session, flight.readings, flight.now)

    def _titled(self, ref: str) -> str:
        return titled(self.work(), ref)

    def tell(self, fact: str) -> None:
        value = self.session.facts.get(fact) is not True
        by_crew = self.deck.facts[fact].by == "crew"
        seat = self._mine(self.session.monitoring) if by_crew and self.own else None
        self._send(inp.Tell(at=self.host.now, fact=fact, value=value, seat=seat))

    def call_list(self, choice: str) -> None:
        ref, seat = choice.rsplit("/", 1)
        self._send(inp.CallList(at=self.host.now, seat=Seat(seat), checklist=ref))

    def running(self) -> str:
        """The list that is being read or held, the one being read first."""
        lists = self.session.lists
        called = [ref for ref, state in lists.items() if state.status is ListStatus.CALLED]
        held = [ref for ref, state in lists.items() if state.status is ListStatus.HELD]
        return (called + held + [""])[0]

    def reader(self, ref: str) -> Seat:
        return self.deck.checklists[ref].read_by.seats(self.session.flying)[0]

    def list_input(self, what: str) -> str:
        """read, skip, hold, restart or complete the running list, by its reader."""
        ref = self.running()
        if not ref:
            return "no list is being read"
        at, seat = self.host.now, self.reader(ref)
        if self._is_foreign(seat) and what != "hold":
            return f"{seat.label} reads it"
        seat = self._mine(seat)
        held = self.session.list(ref).status is ListStatus.HELD
        match what:
            case "read":
                self._send(inp.ReadLine(at=at, seat=seat, checklist=ref))
            case "skip":
                self._send(inp.SkipLine(at=at, seat=seat, checklist=ref))
            case "complete":
                self._send(inp.CompleteList(at=at, seat=seat, checklist=ref))
            case "restart":
                self._send(inp.ResumeList(at=at, seat=seat, checklist=ref, restart=True))
            case _ if held and self._is_foreign(self.reader(ref)):
                return f"{self.reader(ref).label} takes it up again"
            case _ if held:
                duty = next((d for d in owed(self.deck, self.session) if d.checklist == ref), None)
                restart = duty is not None and duty.restart
                self._send(inp.ResumeList(at=at, seat=seat, checklist=ref, restart=restart))
            case _:
                self._send(inp.HoldList(at=at, seat=seat, checklist=ref))
        return ""

    def point(self) -> str:
        """Point at what is picked, at the line that was read, or at what is next for either seat."""
        picked = self.picked if self.picked in self.deck.items else ""
        ref = picked or self._line_read() or self._next_item()
        if not ref:
            return "there is nothing to point at"
        seat = self._mine(self.deck.items[ref].by.seats(self.session.flying)[0])
        self._send(inp.Point(at=self.host.now, seat=seat, item=ref))
        return ""

    def _line_read(self) -> str:
        ref = self.running()
        if not ref:
            return ""
        line = next_line(self.work(), self.deck.checklists[ref])
        return line.id if line is not None else ""

    def _next_item(self) -> str:
        mine = (d for d in owed(self.deck, self.session) if not self._is_foreign(d.seat))
        return next((d.ref for d in mine if d.ref in self.deck.items), "")

    def defer(self, choice: str) -> None:
        seat, ref, cue = choice.split("/")
        self._send(inp.Defer(at=self.host.now, seat=Seat(seat), item=ref, cue=cue))

    def challenge(self, choice: str) -> None:
        seat, about = choice.split("/", 1)
        self._send(inp.Challenge(at=self.host.now, seat=Seat(seat), about=about))

    def reply(self) -> str:
        open_ = self.session.challenge
        if open_ is not None and self._is_foreign(open_.seat.other):
            return f"{open_.seat.other.label} is to answer"
        asked = open_ is not None or self.session.takeover is not None
        seat = open_.seat.other if open_ is not None else self._mine(self.session.flying)
        self._send(inp.Reply(at=self.host.now, seat=seat))
        return "" if asked else "nothing was challenged"

    def transfer(self) -> str:
        """The next of the three parts, by the pilot whose turn it is."""
        s = self.session
        turn = s.flying if s.offered is None else s.offered if s.taken else s.offered.other
        if self._is_foreign(turn):
            part = "offer" if s.offered is None else "confirm" if s.taken else "take"
            return f"{turn.label} is to {part} control"
        if s.offered is None:
            self._send(inp.Transfer(at=self.host.now, seat=s.flying, part="offer"))
            return f'{s.flying.label}: "You have control"'
        part, seat = ("confirm", s.offered) if s.taken else ("take", s.offered.other)
        self._send(inp.Transfer(at=self.host.now, seat=seat, part="confirm" if s.taken else "take"))
        return f'{seat.label}: "{"You" if part == "confirm" else "I"} have control"'

    def take_over(self) -> str:
        seat = self._mine(self.session.monitoring)
        self._send(inp.TakeOver(at=self.host.now, seat=seat))
        return f'{seat.label}: "I have control"'

    def undo(self) -> str:
        """Take back the latest act of either seat, as far as it is the onlooker's own."""
        mine = [act for act in self.session.undo if not self._is_foreign(act.seat)]
        if not mine:
            return "nothing can be taken back in this phase"
        last = mine[-1]
        self._send(inp.Undo(at=self.host.now, seat=last.seat))
        return f"{last.seat.label} takes back: {self._titled(last.ref)}"

    def go_around(self, how: Literal["go_around", "discontinued"]) -> str:
        self._send(inp.GoAround(at=self.host.now, seat=self._mine(self.session.flying), how=how))
        return ""

    def arrival(self) -> Arrival | None:
        """The arrival that the flight is watched against; None without one."""
        return arrival_in_force(self.host.flight.scenario, self.host.flight.plane)

    def weather(self, report: str) -> str:
        """The brief worked out anew with another weather report. A word for the crew where that cannot be."""
        try:
            events = self.host.revise(report)
        except NotAReport as error:
            return str(error)
        if isinstance(self.host, Crewed):
            return why_refused(events) or "sent to the host"
        revised = [event for event in events if isinstance(event, ev.PlanRevised)]
        return "" if revised else "the new report changes no figure of the plan"

    def instruct(self, choice: str) -> str:
        """What an instructor has chosen: a happening now, or one that comes later than it would."""
        what, name = choice.split("/", 1)
        if what == HOLD_BACK:
            refused = why_refused(self.host.hold_back(name, HELD_BACK_S))
            return refused or f"comes {HELD_BACK_S:g} s later at the earliest"
        return why_refused(self.host.play(name))

    def step_on(self) -> str:
        """On to the next event, but not past something that is due."""
        due = next((ref for ref, state in self.session.items.items() if state.prompted and _is_due(state)), "")
        if due:
            return f"{self._titled(due)} is due"
        if not self.host.steps:
            return "with others in the flight nobody steps on"
        before = self.host.now
        self.host.step_on()
        passed = (self.host.now - before) // 1000
        return f"{passed} s on" if passed else "nothing is to come: the flight waits or is over"

    def pause(self) -> None:
        at = self.host.now
        self._send(inp.Unpause(at=at) if self.session.paused else inp.Pause(at=at))

    def pace(self, way: int) -> None:
        now = min(range(len(PACES)), key=lambda i: abs(PACES[i] - self.session.pace))
        new = PACES[max(0, min(len(PACES) - 1, now + way))]
        self._send(inp.SetPace(at=self.host.now, pace=new))

    def aid(self, *, toggle_withhold: bool = False) -> str:
        s = self.session
        if toggle_withhold:
            self._send(inp.SetAid(at=self.host.now, aid=s.aid, withhold=not s.withhold))
            return "prompts are shown" if s.withhold else "prompts are withheld until the debrief"
        other = "drill" if s.aid == "guided" else "guided"
        self._send(inp.SetAid(at=self.host.now, aid="drill" if other == "drill" else "guided", withhold=s.withhold))
        return f"{other} aid"


def _is_due(state: ItemState) -> bool:
    return state.is_owed and not state.overdue
