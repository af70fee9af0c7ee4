"""What can be different: the kinds of things in a deck, and in which respects each is looked at.

The law: every field of a deck stands here or in `LEFT_OUT`; a test holds that, so that no new field can be forgotten.
"""

from enum import StrEnum


class Thing(StrEnum):
    DECK = "deck"
    PHASE = "phase"
    FLOW = "flow"
    ACTION = "item"
    STANDING = "standing_item"
    CALL = "call"
    ANSWER = "answer"
    CHECKLIST = "checklist"
    LINE = "line"
    HOLD = "hold"
    GATE = "gate"
    FACT = "fact"
    MARK = "mark"
    CUE = "cue"
    SIGNAL = "signal"
    POLICY = "policy_value"
    TERM = "term"


class Aspect(StrEnum):
    """In which respect; the values are stable. Those that are fields of a deck's values are named like them.

    They stand in the order in which a reviser looks at them, the hardest first.
    """

    WHOLE = "whole"
    EDGE = "edge"
    NEED = "need"
    AT = "at"
    MUST = "must"
    ORDERS = "orders"
    STOPS = "stops"
    WITHIN_S = "within_s"
    OPENS = "opens"
    DUE = "due"
    LATE = "late"
    MISSED = "missed"
    COMPLETE_BY = "complete_by"
    UNTIL = "until"
    WHEN = "when"
    UNLESS = "unless"
    NOT_WHILE = "not_while"
    EARLY = "early"
    EXIT = "exit"
    COMMITTED = "committed"
    AIRBORNE = "airborne"
    CLEARS = "clears"
    START = "start"
    GO_AROUND = "go_around"
    ENDS = "ends"
    BY = "by"
    CALLED_BY = "called_by"
    READ_BY = "read_by"
    SEATS = "seats"
    PHASES = "phases"
    PLACE = "place"
    ORDER = "order"
    ORDERED = "ordered"
    EXIT_ORDER = "exit_order"
    EDGE_KIND = "edge_kind"
    NEED_KIND = "need_kind"
    TO = "to"
    SEEN = "seen"
    VALUE = "value"
    MOVE = "move"
    VERIFIES = "verifies"
    MODE = "mode"
    AGAIN = "again"
    REOPENED_BY = "reopened_by"
    SURVIVES = "survives"
    CUE = "cue"
    TELLS = "tells"
    CRITICAL = "critical"
    POINT = "point"
    REVERIFY = "reverify"
    STERILE = "sterile"
    REVISED = "revised"
    FIGURE = "figure"
    INITIAL = "initial"
    TOGGLES = "toggles"
    LASTS = "lasts"
    KIND = "kind"
    UNIT = "unit"
    LOW = "low"
    HIGH = "high"
    CHOICES = "choices"
    STALE_S = "stale_s"
    PLANNED = "planned"
    AT_START = "at_start"
    STATUS = "status"
    EFFECTIVITY = "effectivity"
    VERSION = "version"
    DATE = "date"
    TYPE = "type"
    OPERATOR = "operator"
    TITLE = "title"
    DO = "do"
    COMPLETION = "completion"
    MUST_WORDS = "must_words"
    EDGE_REASON = "edge_reason"
    NEED_REASON = "need_reason"
    STRIP = "strip"
    WHY = "why"
    MEANING = "meaning"
    NAME = "name"


A = Aspect
CONDITIONS = frozenset({A.OPENS, A.WHEN, A.UNLESS, A.SEEN, A.AT, A.UNTIL, A.NOT_WHILE, A.COMMITTED, A.STERILE})
LIMITS = frozenset({A.DUE, A.LATE, A.MISSED, A.COMPLETE_BY})
IDS = frozenset({A.VERIFIES, A.STOPS, A.CUE})
NAMES = frozenset({A.VALUE, A.TELLS, A.REOPENED_BY, A.REVISED, A.STRIP})
PHASES = frozenset({A.PHASES, A.START, A.GO_AROUND, A.ENDS})
SHOWN = frozenset({A.DO, A.TO})
SAID = CONDITIONS | LIMITS | IDS | NAMES | PHASES | SHOWN
"""What a field is: a condition, a limit, names of things that may have other names now, shown text with readings."""

_OWED = (
    *(A.OPENS, A.DUE, A.LATE, A.MISSED, A.WHEN, A.UNLESS, A.EARLY, A.BY, A.TO, A.SEEN, A.VALUE, A.VERIFIES),
    *(A.AGAIN, A.REOPENED_BY, A.SURVIVES, A.CUE, A.TELLS, A.CRITICAL, A.POINT, A.REVERIFY, A.DO, A.WHY),
)
FIELDS: dict[Thing, tuple[Aspect, ...]] = {
    Thing.DECK: (
        *(A.COMMITTED, A.START, A.GO_AROUND, A.ENDS, A.STERILE, A.REVISED, A.STATUS, A.EFFECTIVITY, A.VERSION, A.DATE),
        *(A.TYPE, A.OPERATOR, A.TITLE),
    ),
    Thing.PHASE: (A.AIRBORNE, A.CLEARS, A.SEATS, A.TITLE, A.STRIP),
    Thing.FLOW: (A.TITLE,),
    Thing.ACTION: _OWED,
    Thing.STANDING: _OWED,
    Thing.CALL: _OWED,
    Thing.ANSWER: _OWED,
    Thing.LINE: _OWED,
    Thing.CHECKLIST: (
        *(A.OPENS, A.DUE, A.LATE, A.COMPLETE_BY, A.WHEN, A.UNLESS, A.NOT_WHILE, A.CALLED_BY, A.READ_BY, A.MODE),
        *(A.SURVIVES, A.TITLE, A.COMPLETION, A.WHY),
    ),
    Thing.HOLD: (A.UNTIL, A.TITLE),
    Thing.GATE: (A.AT, A.ORDERS, A.STOPS, A.WITHIN_S, A.WHEN, A.UNLESS, A.TITLE, A.WHY),
    Thing.FACT: (A.BY, A.PHASES, A.INITIAL, A.TOGGLES, A.LASTS, A.TITLE),
    Thing.MARK: (A.WHEN, A.TITLE),
    Thing.CUE: (A.WHEN, A.TITLE),
    Thing.SIGNAL: (A.KIND, A.UNIT, A.LOW, A.HIGH, A.CHOICES, A.STALE_S, A.PLANNED, A.AT_START, A.TITLE),
    Thing.POLICY: (A.FIGURE,),
    Thing.TERM: (A.MEANING,),
}
"""Fields that are compared one by one; edges, needs, moves, musts, exits, place and order have their own ways."""

LEFT_OUT: dict[str, str] = {
    "Item.group": "told as place",
    "Item.phases": "told as phases, or by its flow",
    "Item.kind": "another kind is another thing",
    "Item.partner": "follows from the call or standing item",
    "Checklist.phase": "told as place",
    "Checklist.lines": "told as lines and order",
    "Checklist.holds": "told as holds and order",
    "HoldPoint.before": "told as order",
    "Gate.phases": "told as phases",
    "Group.phase": "told as place",
    "Group.kind": "only flows have a name of their own",
    "Group.items": "told as items and order",
    "Deck.hash": "is of the files, comments and blanks too",
    "Deck.conditions": "compared where they are used",
}
"""Fields that are not compared as such, and why nothing is lost."""
