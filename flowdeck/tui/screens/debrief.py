"""The debrief in the terminal: counts on top, the timeline of both seats below, filtered; Enter goes to the moment."""

from typing import TypeVar

from rich.text import Text
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from flowdeck import DISCLAIMER
from flowdeck.debrief.study import Debrief
from flowdeck.debrief.timeline import Entry, Kind
from flowdeck.engine.words import title
from flowdeck.model.seats import Seat
from flowdeck.tui.look import DIM, PLAIN, STRONG
from flowdeck.view.debrief.words import glance, slip_words
from flowdeck.view.words import clock, safe

_WHO = {Seat.CAPTAIN: "CPT", Seat.FIRST_OFFICER: "FO ", None: "   "}
ALL, SLIPS = "everything", "what slipped"


class DebriefScreen(ModalScreen[int | None]):
    """Ends with the moment (ms) that was chosen, or None. *at*: the moment that is looked at."""

    BINDINGS = [
        ("escape,q,d", "leave", "Back"),
        ("s", "seat", "Seat"),
        ("c", "kind", "Class"),
        ("p", "phase", "Phase"),
    ]

    def __init__(self, debrief: Debrief, at: int = 0, id: str = "debrief") -> None:
        super().__init__(id=id)
        self._d = debrief
        self._at = at
        kinds = dict.fromkeys(s.deviation.slip.replace("_", " ") for s in debrief.slips)
        self._kinds = (ALL, SLIPS, *kinds)
        self._seats: tuple[Seat | None, ...] = (None, Seat.CAPTAIN, Seat.FIRST_OFFICER)
        self._phases = ("", *dict.fromkeys(span.phase for span in debrief.spans))
        self._kind, self._phase = (SLIPS if debrief.slips else ALL), ""
        self._seat: Seat | None = None
        self._slips = {s.deviation.number: s for s in debrief.slips}

    def compose(self) -> ComposeResult:
        with Vertical(id="sheet"):
            yield Static(self._counts(), id="counts")
            yield Static("", id="filters")
            yield OptionList(id="options", markup=False)
            yield Static(Text(DISCLAIMER, style=DIM), id="foot")

    def on_mount(self) -> None:
        self._fill()
        self.query_one(OptionList).focus()

    def _counts(self) -> Text:
        text = Text()
        for name, value in glance(self._d):
            text.append(f"{name:18}", style=DIM)
            text.append(f"{safe(value)}\n", style=PLAIN)
        return text

    def entries(self) -> list[Entry]:
        """What the filters leave."""
        return [entry for entry in self._d.timeline if self._fits(entry)]

    def _fits(self, entry: Entry) -> bool:
        if self._phase and entry.phase != self._phase:
            return False
        if self._seat is not None and entry.seat is not self._seat:
            return False
        if self._kind == ALL:
            return True
        slipped = self._slips.get(entry.deviation)
        if slipped is None or entry.kind is not Kind.SLIP:
            return entry.kind is Kind.NOTE and self._kind == SLIPS
        return self._kind in (SLIPS, slipped.deviation.slip.replace("_", " "))

    def _fill(self) -> None:
        shown = self.entries()
        options = self.query_one(OptionList)
        options.clear_options()
        for i, entry in enumerate(shown):
            options.add_option(Option(self._row(entry), id=f"{i}-{entry.at}"))
        if shown:
            later = next((i for i, entry in enumerate(shown) if entry.at >= self._at), len(shown) - 1)
            options.highlighted = later
        text = Text()
        seat = "both seats" if self._seat is None else self._seat.label.lower()
        phase = title(self._d.deck, self._phase).lower() if self._phase else "every phase"
        for key, words in (("s", seat), ("c", self._kind), ("p", phase), ("enter", "to the moment"), ("q", "back")):
            text.append(f"[{key}]", style=STRONG)
            text.append(f" {words}   ", style=DIM)
        text.append(f"{len(shown)} of {len(self._d.timeline)}", style=DIM)
        self.query_one("#filters", Static).update(text)

    def _row(self, entry: Entry) -> Text:
        slipped = self._slips.get(entry.deviation) if entry.kind is Kind.SLIP else None
        text = Text(f"{clock(entry.at)}  {_WHO[entry.seat]}  ", no_wrap=True, overflow="ellipsis")
        if slipped is None:
            text.append(f"{'seen: ' if entry.kind is Kind.SEEN else ''}{safe(entry.words)}")
            return text
        words = slip_words(self._d, slipped)
        text.append(f"{words.severity}  {words.sentence}  ({words.trapped})")
        return text

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        assert event.option.id is not None
        self.dismiss(int(event.option.id.split("-")[1]))

    def action_seat(self) -> None:
        self._seat = _next(self._seats, self._seat)
        self._fill()

    def action_kind(self) -> None:
        self._kind = _next(self._kinds, self._kind)
        self._fill()

    def action_phase(self) -> None:
        self._phase = _next(self._phases, self._phase)
        self._fill()

    def action_leave(self) -> None:
        self.dismiss(None)


T = TypeVar("T")


def _next(values: tuple[T, ...], now: T) -> T:
    return values[(values.index(now) + 1) % len(values)]
