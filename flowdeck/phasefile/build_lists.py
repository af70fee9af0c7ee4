"""Checklists and gates of a phase file."""

from flowdeck.model.deck import Checklist, Gate, HoldPoint, Item, ItemKind, Must
from flowdeck.phasefile.builder import Builder, Spot
from flowdeck.phasefile.shapes import GateShape, LineShape, ListShape


def build_list(b: Builder, shape: ListShape, phase: str, spot: Spot) -> Checklist:
    b.claim(shape.checklist, spot / "checklist")
    lines: list[str] = []
    holds: list[HoldPoint] = []
    for i, row in enumerate(shape.lines):
        here = spot / "lines" / i
        if row.hold is not None:
            hold = _hold(b, row, len(lines), here)
            if hold is not None:
                holds.append(hold)
            continue
        item = _line(b, shape, row, phase, len(lines) + 1, here)
        if item is not None:
            lines.append(b.add(item, here))
    return Checklist(
        id=shape.checklist,
        title=shape.title,
        phase=phase,
        mode=shape.mode,
        called_by=shape.called_by,
        read_by=shape.read_by,
        opens=b.needed(shape.opens, spot / "opens"),
        lines=tuple(lines),
        completion=shape.completion,
        holds=tuple(holds),
        due=b.limit(shape.due, spot / "due"),
        late=b.limit(shape.late, spot / "late"),
        complete_by=b.limit(shape.complete_by, spot / "complete_by"),
        not_while=b.condition(shape.not_while, spot / "not_while"),
        after=b.edges(shape.after, spot / "after"),
        when=b.condition(shape.when, spot / "when"),
        unless=b.condition(shape.unless, spot / "unless"),
        survives=shape.survives,
        why=shape.why,
    )


def _hold(b: Builder, row: LineShape, before: int, spot: Spot) -> HoldPoint | None:
    assert row.hold is not None
    b.claim(row.hold, spot / "hold")
    if row.until is None:
        message = f"the hold '{row.hold}' has no 'until'; add the condition that releases it"
        b.find(spot.place, "hold-no-exit", message)
        return None
    for name in ("line", "challenge", "respond", "by", "seen", "value", "when", "unless"):
        if getattr(row, name) is not None:
            b.find((spot / name).key.place, "hold", f"a hold takes only 'title' and 'until'; move '{name}' to a line")
    title = row.title or row.hold.replace("-", " ")
    return HoldPoint(id=row.hold, title=title, before=before, until=b.needed(row.until, spot / "until"))


def _line(b: Builder, shape: ListShape, row: LineShape, phase: str, number: int, spot: Spot) -> Item | None:
    missing = [name for name in ("challenge", "respond", "by") if getattr(row, name) is None]
    if missing:
        name = f"the line '{row.line}'" if row.line else f"line {number} of '{shape.checklist}'"
        b.find(spot.place, "missing", f"{name} lacks {', '.join(missing)}; add it, or write hold: NAME for a hold")
        return None
    for field in ("until", "title"):
        if getattr(row, field) is not None:
            b.find((spot / field).key.place, "line", f"'{field}' belongs to a hold; a line takes no '{field}'")
    assert row.challenge is not None and row.respond is not None and row.by is not None
    for i, ref in enumerate(row.verifies):
        b.want(ref, spot / "verifies" / i, "item")
    if row.value is not None:
        b.signal(row.value, spot / "value")
    return Item(
        id=row.line or f"{shape.checklist}-{number}",
        kind=ItemKind.LINE,
        phases=(phase,),
        group=shape.checklist,
        by=row.by,
        do=b.text(row.challenge, spot / "challenge"),
        to=b.text(row.respond, spot / "respond"),
        why=row.why or shape.why,
        value=row.value,
        seen=b.condition(row.seen, spot / "seen"),
        verifies=tuple(row.verifies),
        when=b.condition(row.when, spot / "when"),
        unless=b.condition(row.unless, spot / "unless"),
        critical=row.critical,
        point=row.point,
        reverify=row.reverify,
        survives=shape.survives,
    )


def build_gate(b: Builder, shape: GateShape, phase: str, spot: Spot) -> Gate:
    b.claim(shape.gate, spot / "gate")
    for i, name in enumerate(shape.phases):
        b.want(name, spot / "phases" / i, "phase")
    for i, ref in enumerate(shape.fail.stops):
        b.want(ref, spot / "fail" / "stops" / i, "item")
    if (shape.fail.go is None) == (not shape.fail.stops):
        found = "neither" if shape.fail.go is None else "both"
        message = f"a failed gate asks for {{go: go-around phase}} or for {{stops: [items]}}; found {found}"
        b.find((spot / "fail").place, "gate-fail", message)
    if shape.fail.go is not None:
        b.want(shape.fail.go, spot / "fail" / "go", "phase")
    return Gate(
        id=shape.gate,
        title=shape.title,
        phases=tuple(shape.phases) or (phase,),
        at=b.needed(shape.at, spot / "at"),
        must=tuple(
            Must(that=b.needed(m.that, spot / "must" / i / "that"), words=m.words) for i, m in enumerate(shape.must)
        ),
        orders="go_around" if shape.fail.go is not None else "stop",
        within_s=shape.fail.within_s,
        stops=tuple(shape.fail.stops),
        when=b.condition(shape.when, spot / "when"),
        unless=b.condition(shape.unless, spot / "unless"),
        why=shape.why,
    )
