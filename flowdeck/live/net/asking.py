"""What a guest asks for, done by the host, or why it is not."""

from typing import assert_never

from msgspec.structs import replace

from flowdeck.arrival.metar import NotAReport
from flowdeck.live.host import Host, why_refused
from flowdeck.model import events as ev
from flowdeck.wire.link import messages as m
from flowdeck.wire.link.bounds import unfit_input
from flowdeck.wire.link.stations import Station, may_lead, may_send


class Desk:
    """Decides for *host*."""

    def __init__(self, host: Host) -> None:
        self._host = host

    def decide(self, name: str, station: Station, asked: m.Asked, *, has_instructor: bool) -> str:
        """Do at this moment what guest *name* asked for; why it was refused, empty when it was not."""
        at = max(self._host.now, self._host.flight.session.at)
        taken = ev.InputTaken(at=at, guest=name, count=asked.count)
        match asked:
            case m.Send():
                refused = unfit_input(asked.input) or may_send(station, asked.input, has_instructor)
                if refused:
                    return refused
                events = self._host.send(replace(asked.input, at=at), taken)
                return why_refused(events)
            case m.Note():
                refused = may_lead(station, has_instructor)
                if not refused:
                    note = ev.Noted(at=at, about=min(asked.about, at), words=asked.words, by=str(station))
                    self._host.keep(note, taken)
                return refused
            case m.Weather():
                return may_lead(station, has_instructor) or self._weather(asked.report, taken)
            case m.Play() | m.HoldBack():
                return self._happen(station, asked, taken)
            case _:
                assert_never(asked)

    def _weather(self, report: str, taken: ev.InputTaken) -> str:
        try:
            events = self._host.revise(report, taken)
        except NotAReport as error:
            return str(error)
        revised = any(isinstance(event, ev.PlanRevised) for event in events)
        return "" if revised else "the new report changes no figure of the plan"

    def _happen(self, station: Station, asked: m.Play | m.HoldBack, taken: ev.InputTaken) -> str:
        if station is not Station.INSTRUCTOR:
            return "what happens is an instructor's"
        if isinstance(asked, m.Play):
            events = self._host.play(asked.happening, taken)
        else:
            events = self._host.hold_back(asked.happening, asked.s, taken)
        return "" if len(events) > 1 else "nothing of this name can happen any more"
