"""What every part of the build shares: places, the table of conditions, references still to check."""

from collections.abc import Collection
from math import isfinite

from msgspec import Struct

from flowdeck.conditions import Names, Table
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import PLACEHOLDER, Edge, Item, Limit, Move, Need
from flowdeck.model.diagnostic import MOST, Diagnostic, Level, Place, visible
from flowdeck.model.signals import Signal, SignalKind
from flowdeck.phasefile.located import Located, Path
from flowdeck.phasefile.scalars import NUMBER
from flowdeck.phasefile.shapes import EdgeShape, LimitShape, NeedShape
from flowdeck.phasefile.words import nearest, one_of, shown


class Spot(Struct, frozen=True, eq=False):
    """A place in a located file that one can go down from: `spot / "items" / 3`. It is looked up when asked for."""

    located: Located
    path: Path = ()
    of_key: bool = False

    def __truediv__(self, part: str | int) -> "Spot":
        return Spot(self.located, (*self.path, part))

    def within(self, part: str) -> "Spot":
        """`spot / part` if that was written out, else this: a limit may be a condition alone."""
        deeper = self / part
        return deeper if deeper.path in self.located else self

    @property
    def place(self) -> Place:
        return self.located.key_place(self.path) if self.of_key else self.located.place(self.path)

    @property
    def text_place(self) -> Place:
        """Where the text itself begins: findings in a condition count from here."""
        return self.located.text_place(self.path)

    @property
    def key(self) -> "Spot":
        """Its key, or itself when it has none."""
        return Spot(self.located, self.path, of_key=True)


class Builder:
    """Collects a deck's things and findings. Text becomes conditions only through the table."""

    def __init__(self, names: Names) -> None:
        self.names = names
        self.table = Table(names)
        self.findings: list[Diagnostic] = []
        self.items: dict[str, Item] = {}
        self.ids: dict[str, Spot] = {}
        self.rows: dict[int, Spot] = {}
        self._wanted: list[tuple[str, Spot, str]] = []

    def find(self, place: Place, kind: str, message: str, level: Level = Level.ERROR) -> None:
        if len(self.findings) == MOST:
            self.findings.append(Diagnostic(place=place, kind="more", message="and more findings like these"))
        elif len(self.findings) < MOST:
            self.findings.append(Diagnostic(place=place, kind=kind, message=visible(message), level=level))

    @property
    def _is_full(self) -> bool:
        """Whether no further finding is shown: what makes a message costly may be left out."""
        return len(self.findings) > MOST

    def claim(self, id_: str, spot: Spot) -> None:
        """Take an id for one thing; a second claim is a finding."""
        first = self.ids.setdefault(id_, spot)
        if first is not spot:
            message = f"'{id_}' is already used at {first.place}; give one of the two another name"
            self.find(spot.place, "duplicate-id", message)

    def add(self, item: Item, spot: Spot) -> str:
        self.claim(item.id, spot)
        self.items.setdefault(item.id, item)
        return item.id

    def want(self, id_: str, spot: Spot, among: str = "item") -> None:
        """Remember that *id_* must exist once the whole deck is read."""
        self._wanted.append((id_, spot, among))

    def check_wanted(self, known: dict[str, Collection[str]]) -> None:
        for id_, spot, among in self._wanted:
            if self._is_full:
                break
            names = known[among]
            if id_ not in names:
                kind = "unknown-" + among.split()[-1]
                self.find(spot.place, kind, f"there is no {among} '{id_}'{nearest(id_, names)}")

    def condition(self, text: str | None, spot: Spot) -> int | None:
        return None if text is None else self.needed(text, spot)

    def needed(self, text: str, spot: Spot) -> int:
        row = self.table.known(text)
        if row is None:
            row = self.table.add(text, spot.text_place)
            self.rows.setdefault(row, spot)
        return row

    def limit(self, shape: LimitShape | None, spot: Spot) -> Limit | None:
        if shape is None:
            return None
        if (shape.when is None) == (shape.after_s is None):
            found = "neither" if shape.when is None else "both"
            message = f"{spot.path[-1]}: expected a condition or {{after_s: seconds}}, found {found}"
            self.find(spot.place, "limit", message)
            return None
        if shape.when is not None and NUMBER.match(shape.when):
            seconds = f"{{after_s: {shape.when}}}"
            message = f"{spot.path[-1]}: expected a condition, found {shape.when}; for seconds write {seconds}"
            self.find(spot.place, "limit", message)
            return None
        if shape.from_ is not None and shape.when is not None:
            message = f"{spot.path[-1]}: 'from' goes with 'after_s'; in a condition write since('{shape.from_}')"
            self.find((spot / "from").place, "limit", message)
        if shape.from_ is not None:
            self.want(shape.from_, (spot / "from"), "mark or item")
        when = None if shape.when is None else self.needed(shape.when, spot.within("when"))
        return Limit(when=when, after_s=shape.after_s, start=shape.from_)

    def edges(self, shapes: list[EdgeShape], spot: Spot) -> tuple[Edge, ...]:
        result = []
        for i, shape in enumerate(shapes):
            here = spot / i
            self.want(shape.item, (here / "item"), "item")
            hard = shape.order == "hard"
            if hard and not shape.reason:
                self.find(
                    here.place, "bad-hard-edge", f"the hard edge after '{shape.item}' needs a reason; add reason: ..."
                )
            result.append(Edge(before=shape.item, hard=hard, reason=shape.reason, kind=shape.kind))
        return tuple(result)

    def needs(self, shapes: list[NeedShape], spot: Spot) -> tuple[Need, ...]:
        return tuple(
            Need(that=self.needed(s.that, spot / i / "that"), reason=s.reason, kind=s.kind)
            for i, s in enumerate(shapes)
        )

    def moves(self, raw: dict[str, Scalar], spot: Spot) -> tuple[Move, ...]:
        seconds = raw.get("in_s", 1.0)
        if isinstance(seconds, (bool, str)) or not 0 <= seconds <= 600:
            self.find((spot / "in_s").place, "wrong-value", "in_s: expected seconds from 0 to 600")
            seconds = 1.0
        result = []
        for name, target in raw.items():
            if name == "in_s":
                continue
            signal = self.signal(name, (spot / name).key)
            if signal is not None:
                result.append(self._move(signal, target, float(seconds), spot / name))
        return tuple(result)

    def _move(self, signal: Signal, target: Scalar, seconds: float, spot: Spot) -> Move:
        if signal.kind is SignalKind.NUMBER and isinstance(target, str):
            if NUMBER.match(target):
                message = f"'{signal.name}' goes to a number; write {target} without quotes"
                self.find(spot.place, "wrong-value", message)
            else:
                self.signal(target, spot)
            return Move(signal=signal.name, same_as=target, in_s=seconds)
        self.check_value(signal, target, spot.place)
        return Move(signal=signal.name, to=target, in_s=seconds)

    def check_value(self, signal: Signal, value: Scalar, place: Place) -> None:
        """A finding unless *value* is one that *signal* can read."""
        match signal.kind:
            case SignalKind.FLAG:
                right, wanted = isinstance(value, bool), "true or false"
            case SignalKind.CHOICE:
                right, wanted = value in signal.choices, one_of(signal.choices)
            case SignalKind.NUMBER:
                low = float("-inf") if signal.low is None else signal.low
                high = float("inf") if signal.high is None else signal.high
                is_number = isinstance(value, (int, float)) and not isinstance(value, bool)
                right = is_number and low <= float(value) <= high
                wanted = (
                    "a number"
                    + (f" from {low:g}" if isfinite(low) else "")
                    + (f" to {high:g}" if isfinite(high) else "")
                )
        if not right:
            self.find(place, "wrong-value", f"'{signal.name}' cannot be {shown(value)}; expected {wanted}")

    def signal(self, name: str, spot: Spot) -> Signal | None:
        """The signal of that name; a finding at *spot* when there is none."""
        found = self.names.signals.get(name)
        if found is None:
            self._no_signal(name, spot.place)
        return found

    def _no_signal(self, name: str, place: Place) -> None:
        if not self._is_full:
            self.find(place, "unknown-signal", f"'{name}' is not a signal{nearest(name, self.names.signals)}")

    def text(self, words: str, spot: Spot) -> str:
        """Check the `{signal}` placeholders of shown text."""
        for found in PLACEHOLDER.finditer(words):
            if found[1] not in self.names.signals:
                start = spot.text_place
                self._no_signal(found[1], Place(start.file, start.line, start.column + found.start(1)))
        return words
