"""How a flight stood after some of its events: for those who only look on, now or later, here or elsewhere."""

from collections.abc import Iterable

from msgspec import Struct

from flowdeck.engine.evolve import evolve
from flowdeck.model import events as ev
from flowdeck.model.readings import Readings
from flowdeck.model.session import Session


class Stand(Struct, frozen=True, eq=False):
    """The fold of some events. *readings*: of the traces; *plane*: the aeroplane of the last checkpoint, packed."""

    session: Session = Session()
    readings: Readings = Readings()
    plane: str = ""


NOTHING_YET = Stand()


def stand_after(stand: Stand, events: Iterable[ev.Event | None]) -> Stand:
    """How it stands after *events* too; None is one that is not known."""
    session, readings, plane = stand.session, stand.readings, stand.plane
    for event in events:
        if event is None:
            continue
        session = evolve(session, event)
        if isinstance(event, ev.Trace):
            readings = Readings().heard({**readings.values, **event.values}, event.at)  # the unchanged were heard too
        elif isinstance(event, ev.Checkpoint):
            plane = event.plane
    return Stand(session, readings, plane)
