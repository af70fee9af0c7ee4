"""Any flight of the small deck: inputs as they come, likely ones more often than mad ones."""

from typing import Any

from hypothesis import strategies as st

from flowdeck.engine import decide, fold, start
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.readings import Readings
from flowdeck.model.seats import Seat
from tests.engine.test_slips import DECK
from tests.support.bench import QUIET

SEATS = st.sampled_from(list(Seat))
ITEMS = st.sampled_from(list(DECK.items))
LISTS = st.sampled_from(list(DECK.checklists))
LINES = st.sampled_from([line for checklist in DECK.checklists.values() for line in checklist.lines])
CHANGES: list[dict[str, Any]] = [
    {"distance_nm": 9.0},
    {"distance_nm": 7.0},
    {"height_aal_ft": 990.0, "altitude_ft": 1420.0},
    {"height_aal_ft": 390.0, "altitude_ft": 820.0},
    {"gear": "down"},
    {"flap_deg": 31.0},
    {"selected_speed_kt": 150.0},
    {"selected_altitude_ft": 3000.0},
    {"tat_c": 8.0, "in_cloud": True},
    {"tat_c": 14.0, "in_cloud": False},
    {"vertical_speed_fpm": -800.0, "selected_altitude_ft": 4200.0},
    {"on_ground": True},
    {"ground_power": True},
]
LIST_INPUTS = ["CallList", "ReadLine", "SkipLine", "HoldList", "ResumeList", "CompleteList"]
Step = tuple[str, Any]


def _of(kind: str | list[str], **fields: st.SearchStrategy[Any]) -> st.SearchStrategy[Step]:
    return st.tuples(st.sampled_from([kind] if isinstance(kind, str) else kind), st.fixed_dictionaries(fields))


ANY_STEP = st.one_of(
    _of("Act", seat=SEATS, item=ITEMS),
    _of("Point", seat=SEATS, item=ITEMS),
    st.tuples(st.just("reads"), st.sampled_from(CHANGES)),
    st.tuples(st.just("wait"), st.integers(1, 70)),
    _of(LIST_INPUTS, seat=SEATS, checklist=LISTS),
    _of("Answer", seat=SEATS, line=LINES, value=st.sampled_from([None, "checked", 1009.0])),
    _of("Defer", seat=SEATS, item=ITEMS, cue=st.sampled_from([None, "on-ground"]), in_s=st.sampled_from([None, 5.0])),
    _of("Tell", seat=SEATS, fact=st.sampled_from(list(DECK.facts)), value=st.booleans()),
    _of("Transfer", seat=SEATS, part=st.sampled_from(["offer", "take", "confirm"])),
    _of(["TakeOver", "Reply", "Undo", "GoAround"], seat=SEATS),
    _of("Challenge", seat=SEATS, about=ITEMS),
    _of("SetPace", pace=st.sampled_from([1.0, 4.0])),
)
ANY_FLIGHT = st.lists(ANY_STEP, max_size=40)


def flown(script: list[Step], *, solo: bool = False) -> tuple[ev.Event, ...]:
    """The events of a script: 0.7 s between its steps."""
    values = dict(QUIET)
    readings = Readings().heard(values, 0)
    session, first = start(DECK, readings, flying=Seat.CAPTAIN, solo=solo)
    events, now = list(first), 0
    for kind, fields in script:
        now += 700
        input_: inp.Input = inp.Sample(at=now)
        if kind == "reads":
            values.update(fields)
        elif kind == "wait":
            now += fields * 1000
            input_ = inp.Tick(at=now)
        else:
            input_ = getattr(inp, kind)(at=now, **fields)
        readings = readings.heard(values, now)
        more = decide(DECK, session, readings, input_)
        session = fold(session, more)
        events += more
    return tuple(events)
