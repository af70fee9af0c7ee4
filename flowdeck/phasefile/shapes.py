"""The shape of deck and phase files: what may stand where. All errors of a file are found at once."""

from typing import Annotated, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from flowdeck.model.seats import Owner, Seat
from flowdeck.phasefile.scalars import Boolean, Id, Loose, Name, Number, ScalarValue, Seconds, Text, Whole, formed


def _as_limit(value: object) -> object:
    return {"when": value} if isinstance(value, str) else value


def _as_list(value: object) -> object:
    return [value] if isinstance(value, str) else value


STATUS = r"^(draft|trial|approved by .+)$"
"""How far a file has come with its operator."""


class Shape(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)


class LimitShape(Shape):
    when: Text | None = None
    after_s: Annotated[Number, Field(ge=0, le=86_400)] | None = None
    from_: Id | None = Field(default=None, alias="from")


Limit = Annotated[LimitShape, BeforeValidator(_as_limit, json_schema_input_type=Text | LimitShape)]
Ids = Annotated[list[Id], BeforeValidator(_as_list, json_schema_input_type=Id | list[Id])]
Names = Annotated[list[Name], BeforeValidator(_as_list, json_schema_input_type=Name | list[Name])]
Kind = Literal["safety", "damage", "order"]


class EdgeShape(Shape):
    item: Id
    order: Literal["hard", "flow"]
    reason: Loose = ""
    kind: Kind = "order"


class NeedShape(Shape):
    that: Text
    reason: Text
    kind: Kind = "safety"


class ItemShape(Shape):
    item: Id
    do: Text
    to: Loose = ""
    by: Owner | None = None
    value: Name | None = None
    opens: Text | None = None
    due: Limit | None = None
    late: Limit | None = None
    early: Loose = ""
    again: Boolean = False
    when: Text | None = None
    unless: Text | None = None
    seen: Text | None = None
    moves: dict[str, ScalarValue] = {}
    after: list[EdgeShape] = []
    needs: list[NeedShape] = []
    reopened_by: Names = []
    defer: Id | None = None
    critical: Boolean = False
    point: Boolean = False
    survives: Boolean = False
    tells: Name | None = None
    why: Text


class FlowShape(Shape):
    flow: Id
    title: Text
    by: Owner
    opens: Text | None = None
    due: Limit | None = None
    late: Limit | None = None
    when: Text | None = None
    unless: Text | None = None
    ordered: Boolean = True
    why: Loose = ""
    items: Annotated[list[ItemShape], Field(min_length=1)]


class LineShape(Shape):
    """A line, or a hold when it has `hold`."""

    line: Id | None = None
    challenge: Text | None = None
    respond: Text | None = None
    by: Owner | None = None
    verifies: Ids = []
    seen: Text | None = None
    value: Name | None = None
    when: Text | None = None
    unless: Text | None = None
    critical: Boolean = False
    point: Boolean = False
    reverify: Boolean = False
    why: Loose = ""
    hold: Id | None = None
    title: Text | None = None
    until: Text | None = None


class ListShape(Shape):
    checklist: Id
    title: Text
    mode: Literal["verify", "read_do"]
    called_by: Owner
    read_by: Owner
    opens: Text
    due: Limit | None = None
    late: Limit | None = None
    complete_by: Limit | None = None
    not_while: Text | None = None
    when: Text | None = None
    unless: Text | None = None
    after: list[EdgeShape] = []
    lines: Annotated[list[LineShape], Field(min_length=1)]
    completion: Text
    survives: Boolean = False
    why: Text


class AnswerShape(Shape):
    say: Text
    by: Owner
    within_s: Annotated[Number, Field(gt=0, le=600)] | None = None
    tells: Name | None = None


class CallShape(Shape):
    call: Id
    say: Text
    by: Owner
    opens: Text
    due: Limit | None = None
    late: Limit | None = None
    missed: Limit | None = None
    again: Boolean = False
    when: Text | None = None
    unless: Text | None = None
    after: list[EdgeShape] = []
    needs: list[NeedShape] = []
    answer: AnswerShape | None = None
    tells: Name | None = None
    critical: Boolean = False
    phases: Names = []
    why: Text


class HalfShape(Shape):
    to: Text
    seen: Text | None = None
    moves: dict[str, ScalarValue] = {}
    due: Limit | None = None
    late: Limit | None = None
    needs: list[NeedShape] = []
    after: list[EdgeShape] = []


class StandingShape(Shape):
    standing: Id
    by: Owner
    do: Text
    when: Text
    until: Text | None = None
    on: HalfShape
    off: HalfShape
    phases: Names = []
    unless: Text | None = None
    critical: Boolean = False
    why: Text


class MustShape(Shape):
    that: Text
    words: Text


class FailShape(Shape):
    go: Name | None = None
    within_s: Annotated[Number, Field(gt=0, le=120)] = 6.0
    stops: Ids = []


class GateShape(Shape):
    gate: Id
    title: Text
    at: Text
    must: Annotated[list[MustShape], Field(min_length=1)]
    fail: FailShape
    when: Text | None = None
    unless: Text | None = None
    phases: Names = []
    why: Text


class ExitShape(Shape):
    to: Name
    when: Text


class PhaseShape(Shape):
    phase: Name
    title: Text
    airborne: Boolean = False
    clears: Boolean = False
    seats: Annotated[list[Seat], Field(min_length=1)] = [Seat.CAPTAIN, Seat.FIRST_OFFICER]
    strip: Names = []
    leads_to: Annotated[list[ExitShape], Field(min_length=1)]
    flows: list[FlowShape] = []
    checklists: list[ListShape] = []
    calls: list[CallShape] = []
    standing: list[StandingShape] = []
    gates: list[GateShape] = []


class SignalShape(Shape):
    title: Text
    unit: Loose = ""
    low: Number | None = None
    high: Number | None = None
    choices: list[Text] = []
    flag: Boolean = False
    stale_s: Annotated[Number, Field(gt=0)] | None = 5.0
    planned: Boolean = False
    start: ScalarValue | None = None


class FactShape(Shape):
    title: Text
    by: Literal["crew", "outside"] = "crew"
    initial: Boolean = False
    phases: Names = []
    toggles: Boolean = False
    lasts: Literal["flight", "approach"] = "flight"


class MarkShape(Shape):
    when: Text
    title: Loose = ""


class CueShape(Shape):
    title: Text
    when: Text


class PolicyShape(Shape):
    look_s: Seconds | None = None
    burst_lines: Annotated[Whole, Field(ge=1, le=50)] | None = None
    burst_s: Seconds | None = None
    settle_s: Seconds | None = None
    hold_restart_s: Seconds | None = None
    completion_s: Seconds | None = None
    answer_s: Seconds | None = None
    cue_reply_s: Seconds | None = None
    challenge_s: Seconds | None = None
    calm_before_s: Seconds | None = None


class DeckShape(Shape):
    deck: Id
    title: Text
    version: Text
    date: Text
    type: Text
    operator: Text
    status: Annotated[Text, formed(STATUS)]
    effectivity: Loose = ""
    start: Name
    go_around: Name
    ends: Annotated[Names, Field(min_length=1)]
    committed: Text
    revised: Name | None = None
    sterile: Text | None = None
    policy: PolicyShape = PolicyShape()
    signals: dict[Name, SignalShape] = {}
    facts: dict[Name, FactShape] = {}
    marks: dict[Id, MarkShape] = {}
    cues: dict[Id, CueShape] = {}
    glossary: dict[Text, Text] = {}
