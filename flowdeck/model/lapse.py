"""The lapses that a played pilot makes on purpose, for the other pilot to catch."""

from enum import StrEnum

from msgspec import Struct


class LapseKind(StrEnum):
    """What is let slip. `LAPSE_MEANING` says how."""

    ITEM_OMITTED = "item_omitted"
    ITEM_LATE = "item_late"
    ITEM_SWAPPED = "item_swapped"
    ITEM_MISSET = "item_misset"
    CALL_OMITTED = "call_omitted"
    CALL_LATE = "call_late"
    LINE_BLIND = "line_blind"
    LINE_MISSAID = "line_missaid"
    LINE_SKIPPED = "line_skipped"
    LIST_NOT_CALLED = "list_not_called"
    LIST_LEFT_HELD = "list_left_held"
    LIST_NOT_COMPLETED = "list_not_completed"


LAPSE_MEANING: dict[LapseKind, str] = {
    LapseKind.ITEM_OMITTED: "An item of its own flow is not done.",
    LapseKind.ITEM_LATE: "An item of its own flow is done only some time after it should be.",
    LapseKind.ITEM_SWAPPED: "An item is done only after the one that should follow it.",
    LapseKind.ITEM_MISSET: "An item is set to another value than the one asked for.",
    LapseKind.CALL_OMITTED: "A call, or the answer to one, is not made.",
    LapseKind.CALL_LATE: "A call, or the answer to one, comes late.",
    LapseKind.LINE_BLIND: "A line is answered at once, without a look.",
    LapseKind.LINE_MISSAID: "A line is answered with another value than the one that is shown.",
    LapseKind.LINE_SKIPPED: "The reader passes over a line.",
    LapseKind.LIST_NOT_CALLED: "A list is not called.",
    LapseKind.LIST_LEFT_HELD: "A held list is not taken up again.",
    LapseKind.LIST_NOT_COMPLETED: "A list that was read to its end is not called complete.",
}


class Lapses(Struct, frozen=True, kw_only=True):
    """How often a played pilot lets something slip.

    *percent*: of the times at which it could; *late_s*, *call_late_s*: between these (s) a late act or call comes;
    *wrong_s*: how long (s) a wrong word stands before its maker hears it.
    """

    id: str
    title: str
    about: str = ""
    percent: dict[LapseKind, float] = {}
    late_s: tuple[float, float] = (15.0, 45.0)
    call_late_s: tuple[float, float] = (3.0, 8.0)
    wrong_s: float = 8.0

    def __hash__(self) -> int:
        return hash((self.id, *self.percent.items()))


NO_LAPSES = Lapses(id="none", title="None")
