"""The shape of lapse files, and from their text to the value."""

from typing import Annotated

from pydantic import Field

from flowdeck.model.diagnostic import Diagnostic, Rejected
from flowdeck.model.lapse import LapseKind, Lapses
from flowdeck.phasefile.builder import Spot
from flowdeck.phasefile.read import read
from flowdeck.phasefile.scalars import Id, Number, Text
from flowdeck.phasefile.shapes import Shape
from flowdeck.phasefile.validate import guess

Percent = Annotated[Number, Field(ge=0, le=100)]
Seconds = Annotated[Number, Field(ge=1, le=600)]


class LateShape(Shape):
    from_: Seconds = Field(alias="from")
    to: Seconds


class LapsesShape(Shape):
    lapses: Id
    title: Text
    about: Text = ""
    percent: dict[LapseKind, Percent]
    late_s: LateShape = LateShape(**{"from": 15.0, "to": 45.0})
    call_late_s: LateShape = LateShape(**{"from": 3.0, "to": 8.0})
    wrong_s: Seconds = 8.0


def load_lapses(file: str, raw: bytes) -> Lapses:
    """How often a played pilot lets something slip, from its file. Raises `Rejected` with all findings."""
    located, shape, wrong, *_ = guess(read(file, raw), LapsesShape)
    if shape is None or wrong:
        raise Rejected(wrong)
    found = [
        Diagnostic(place=(Spot(located) / name).place, kind="order", message=_crossed(late))
        for name, late in (("late_s", shape.late_s), ("call_late_s", shape.call_late_s))
        if late.to < late.from_
    ]
    if found:
        raise Rejected(tuple(found))
    return Lapses(
        id=shape.lapses,
        title=shape.title,
        about=shape.about,
        percent=dict(shape.percent),
        late_s=(shape.late_s.from_, shape.late_s.to),
        call_late_s=(shape.call_late_s.from_, shape.call_late_s.to),
        wrong_s=shape.wrong_s,
    )


def _crossed(late: LateShape) -> str:
    return f"to: {late.to:g} s comes before from: {late.from_:g} s; give the later one as 'to'"
