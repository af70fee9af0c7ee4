"""Flows, calls and standing items of a phase file to `Item`s: all are things that a pilot owes."""

from flowdeck.model.deck import Edge, Group, Item, ItemKind, Limit
from flowdeck.phasefile.builder import Builder, Spot
from flowdeck.phasefile.shapes import CallShape, FlowShape, HalfShape, ItemShape, LimitShape, StandingShape


def build_flow(b: Builder, flow: FlowShape, phase: str, spot: Spot) -> Group:
    b.claim(flow.flow, spot / "flow")
    ids: list[str] = []
    for i, shape in enumerate(flow.items):
        before = ids[-1] if flow.ordered and ids else None
        item = _flow_item(b, flow, shape, phase, spot, spot / "items" / i, before)
        ids.append(b.add(item, spot / "items" / i / "item"))
    return Group(id=flow.flow, title=flow.title, phase=phase, kind="flow", items=tuple(ids))


def _flow_item(
    b: Builder, flow: FlowShape, shape: ItemShape, phase: str, around: Spot, spot: Spot, before: str | None
) -> Item:
    after = b.edges(shape.after, spot / "after")
    if before is not None and all(edge.before != before for edge in after):
        after = (*after, Edge(before=before))
    for i, name in enumerate(shape.reopened_by):
        signal = b.names.signals.get(name)
        if signal is None or not signal.planned:
            b.want(name, spot / "reopened_by" / i, "fact")
    if shape.defer is not None:
        b.want(shape.defer, spot / "defer", "cue")
    return Item(
        id=shape.item,
        kind=ItemKind.ACTION,
        phases=(phase,),
        group=flow.flow,
        by=shape.by or flow.by,
        do=b.text(shape.do, spot / "do"),
        to=b.text(shape.to, spot / "to"),
        why=shape.why,
        value=_value(b, shape.value, spot),
        opens=_first(b, (shape.opens, spot / "opens"), (flow.opens, around / "opens")),
        due=_first_limit(b, shape.due, spot / "due", flow.due, around / "due"),
        late=_first_limit(b, shape.late, spot / "late", flow.late, around / "late"),
        early=shape.early,
        again=shape.again,
        when=_first(b, (shape.when, spot / "when"), (flow.when, around / "when")),
        unless=_first(b, (shape.unless, spot / "unless"), (flow.unless, around / "unless")),
        seen=b.condition(shape.seen, spot / "seen"),
        moves=b.moves(shape.moves, spot / "moves"),
        after=after,
        needs=b.needs(shape.needs, spot / "needs"),
        reopened_by=tuple(shape.reopened_by),
        cue=shape.defer,
        critical=shape.critical,
        point=shape.point,
        survives=shape.survives,
        tells=_tells(b, shape.tells, spot),
    )


def _value(b: Builder, name: str | None, spot: Spot) -> str | None:
    if name is not None:
        b.signal(name, spot / "value")
    return name


def _tells(b: Builder, fact: str | None, spot: Spot) -> str | None:
    if fact is not None:
        b.want(fact, spot / "tells", "fact")
    return fact


def _first(b: Builder, *choices: tuple[str | None, Spot]) -> int | None:
    """The nearest text that is given, as a condition."""
    for text, spot in choices:
        if text is not None:
            return b.needed(text, spot)
    return None


def _first_limit(b: Builder, own: LimitShape | None, spot: Spot, flow: LimitShape | None, around: Spot) -> Limit | None:
    return b.limit(own, spot) if own is not None else b.limit(flow, around)


def build_call(b: Builder, shape: CallShape, phase: str, spot: Spot) -> list[str]:
    phases = tuple(shape.phases) or (phase,)
    for i, name in enumerate(shape.phases):
        b.want(name, spot / "phases" / i, "phase")
    answer_id = f"{shape.call}-answer"
    call = Item(
        id=shape.call,
        kind=ItemKind.CALL,
        phases=phases,
        group=f"{phase}-calls",
        by=shape.by,
        do=b.text(shape.say, spot / "say"),
        why=shape.why,
        opens=b.needed(shape.opens, spot / "opens"),
        due=b.limit(shape.due, spot / "due"),
        late=b.limit(shape.late, spot / "late"),
        missed=b.limit(shape.missed, spot / "missed"),
        again=shape.again,
        when=b.condition(shape.when, spot / "when"),
        unless=b.condition(shape.unless, spot / "unless"),
        after=b.edges(shape.after, spot / "after"),
        needs=b.needs(shape.needs, spot / "needs"),
        critical=shape.critical,
        tells=_tells(b, shape.tells, spot),
        partner=answer_id if shape.answer else None,
    )
    ids = [b.add(call, spot / "call")]
    if shape.answer is not None:
        here = spot / "answer"
        answer = Item(
            id=answer_id,
            kind=ItemKind.ANSWER,
            phases=phases,
            group=f"{phase}-calls",
            by=shape.answer.by,
            do=b.text(shape.answer.say, here / "say"),
            why=shape.why,
            missed=Limit(after_s=shape.answer.within_s) if shape.answer.within_s else None,
            tells=_tells(b, shape.answer.tells, here),
            critical=shape.critical,
            partner=shape.call,
        )
        ids.append(b.add(answer, here))
    return ids


def build_standing(b: Builder, shape: StandingShape, phase: str, spot: Spot) -> list[str]:
    for i, name in enumerate(shape.phases):
        b.want(name, spot / "phases" / i, "phase")
    b.claim(shape.standing, spot / "standing")
    until = shape.until if shape.until is not None else f"not ({shape.when})"
    until_spot = spot / ("until" if shape.until is not None else "when")
    on = _half(b, shape, shape.on, "on", phase, spot, b.needed(shape.when, spot / "when"))
    off = _half(b, shape, shape.off, "off", phase, spot, b.needed(until, until_spot))
    return [b.add(on, spot / "on"), b.add(off, spot / "off")]


def _half(b: Builder, shape: StandingShape, half: HalfShape, side: str, phase: str, spot: Spot, opens: int) -> Item:
    here = spot / side
    return Item(
        id=f"{shape.standing}-{side}",
        kind=ItemKind.STANDING_ON if side == "on" else ItemKind.STANDING_OFF,
        phases=tuple(shape.phases) or (phase,),
        group=f"{phase}-standing",
        by=shape.by,
        do=b.text(shape.do, spot / "do"),
        to=b.text(half.to, here / "to"),
        why=shape.why,
        opens=opens,
        due=b.limit(half.due, here / "due"),
        late=b.limit(half.late, here / "late"),
        again=True,
        unless=b.condition(shape.unless, spot / "unless"),
        seen=b.condition(half.seen, here / "seen"),
        moves=b.moves(half.moves, here / "moves"),
        needs=b.needs(half.needs, here / "needs"),
        after=b.edges(half.after, here / "after"),
        critical=shape.critical,
        partner=f"{shape.standing}-{'off' if side == 'on' else 'on'}",
    )
