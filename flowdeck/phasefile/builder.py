"""What every part of the build shares: places, the table of conditions, references still to check."""

from collections.abc import Iterable

from flowdeck.conditions import Names, Table
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import PLACEHOLDER, Edge, Item, Limit, Move, Need
from flowdeck.model.diagnostic import Diagnostic, Level, Place
from flowdeck.model.signals import Signal, SignalKind
from flowdeck.phasefile.read import Located, Path
from flowdeck.phasefile.shapes import EdgeShape, LimitShape, NeedShape
from flowdeck.phasefile.validate import nearest


class Spot:
    """A place in a located file that one can go down from: `spot / "items" / 3`."""

    __slots__ = ("located", "path")

    def __init__(self, located: Located, path: Path = ()) -> None:
        self.located = located
        self.path = path

    def __truediv__(self, part: str | int) -> "Spot":
        return Spot(self.located, (*self.path, part))

    @property
    def place(self) -> Place:
        return self.located.place(self.path)


class Builder:
    """Collects a deck's things and findings. Text becomes conditions only through the table."""

    def __init__(self, names: Names) -> None:
        self.names = names
        self.table = Table(names)
        self.findings: list[Diagnostic] = []
        self.items: dict[str, Item] = {}
        self.ids: dict[str, Place] = {}
        self._wanted: list[tuple[str, Place, str]] = []

    def find(self, place: Place, kind: str, message: str, level: Level = Level.ERROR) -> None:
        self.findings.append(Diagnostic(place=place, kind=kind, message=message, level=level))

    def claim(self, id_: str, place: Place) -> None:
        """Take an id for one thing; a second claim is a finding."""
        first = self.ids.setdefault(id_, place)
        if first is not place:
            self.find(place, "duplicate-id", f"'{id_}' is already used at {first}; ids are unique in a deck")

    def add(self, item: Item, place: Place) -> str:
        self.claim(item.id, place)
        self.items.setdefault(item.id, item)
        return item.id

    def want(self, id_: str, place: Place, among: str = "item") -> None:
        """Remember that *id_* must exist once the whole deck is read."""
        self._wanted.append((id_, place, among))

    def check_wanted(self, known: dict[str, Iterable[str]]) -> None:
        for id_, place, among in self._wanted:
            names = set(known[among])
            if id_ not in names:
                self.find(place, f"unknown-{among}", f"there is no {among} '{id_}'{nearest(id_, names) or '.'}")

    def condition(self, text: str | None, spot: Spot) -> int | None:
        return None if text is None else self.table.add(text, spot.place)

    def needed(self, text: str, spot: Spot) -> int:
        return self.table.add(text, spot.place)

    def limit(self, shape: LimitShape | None, spot: Spot) -> Limit | None:
        if shape is None:
            return None
        if (shape.when is None) == (shape.after_s is None):
            self.find(spot.place, "limit", "a limit is a condition, or {after_s: seconds}; not both and not neither")
            return None
        if shape.from_ is not None:
            self.want(shape.from_, (spot / "from").place, "mark or item")
        when = None if shape.when is None else self.table.add(shape.when, spot.place)
        return Limit(when=when, after_s=shape.after_s, start=shape.from_)

    def edges(self, shapes: list[EdgeShape], spot: Spot) -> tuple[Edge, ...]:
        result = []
        for i, shape in enumerate(shapes):
            here = spot / i
            self.want(shape.item, (here / "item").place, "item")
            hard = shape.order == "hard"
            if hard and not shape.reason:
                self.find(here.place, "bad-hard-edge", f"the hard edge after '{shape.item}' gives no reason")
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
            signal = self.signal(name, spot / name)
            if signal is not None:
                result.append(self._move(signal, target, float(seconds), spot / name))
        return tuple(result)

    def _move(self, signal: Signal, target: Scalar, seconds: float, spot: Spot) -> Move:
        if signal.kind is SignalKind.NUMBER and isinstance(target, str):
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
                right, wanted = value in signal.choices, "one of " + ", ".join(signal.choices)
            case SignalKind.NUMBER:
                low = float("-inf") if signal.low is None else signal.low
                high = float("inf") if signal.high is None else signal.high
                is_number = isinstance(value, (int, float)) and not isinstance(value, bool)
                right = is_number and low <= float(value) <= high
                wanted = f"a number from {low:g} to {high:g}"
        if not right:
            shown = str(value).lower() if isinstance(value, bool) else value
            self.find(place, "wrong-value", f"'{signal.name}' cannot be '{shown}'; expected {wanted}")

    def signal(self, name: str, spot: Spot) -> Signal | None:
        found = self.names.signals.get(name)
        if found is None:
            hint = nearest(name, self.names.signals) or "."
            place = spot.located.keys.get(spot.path, spot.place)
            self.find(place, "unknown-signal", f"'{name}' is not a signal{hint}")
        return found

    def text(self, words: str, spot: Spot) -> str:
        """Check the `{signal}` placeholders of shown text."""
        for name in PLACEHOLDER.findall(words):
            self.signal(name, spot)
        return words
