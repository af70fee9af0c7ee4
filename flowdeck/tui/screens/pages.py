"""Pages over the flight: help, what slipped, path and numbers, and the question before quitting."""

from collections.abc import Iterable

from rich.text import Text
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from flowdeck import DISCLAIMER
from flowdeck.model.deck import Deck
from flowdeck.model.session import Session
from flowdeck.tui.keys import KEYS, KeyAction
from flowdeck.tui.look import DIM, LEGEND, PLAIN, SHAPES, STRONG, WEIGHTS
from flowdeck.view.margin import prompts
from flowdeck.view.sentences import sentence
from flowdeck.view.vantage import BOTH_SEATS, Vantage
from flowdeck.view.words import clock, safe


class Page(ModalScreen[None]):
    """A page of text that any of its keys closes."""

    BINDINGS = [("escape,q,enter,question_mark,n,b", "leave", "Back")]

    def __init__(self, text: Text, id: str = "page") -> None:
        super().__init__(id=id)
        self._text = text

    def compose(self) -> ComposeResult:
        with VerticalScroll(id="sheet"):
            yield Static(self._text)

    def on_mount(self) -> None:
        self.query_one("#sheet").focus()

    def action_leave(self) -> None:
        self.dismiss(None)


class Confirm(ModalScreen[bool]):
    """Yes by y, anything else is no."""

    BINDINGS = [("y", "yes", "Yes"), ("n,escape,q", "no", "No")]

    def __init__(self, question: str) -> None:
        super().__init__(id="confirm")
        self._question = question

    def compose(self) -> ComposeResult:
        yield Static(Text(f"{self._question}\n\n[y] yes   [n] no", style=PLAIN), id="question")

    def action_yes(self) -> None:
        self.dismiss(True)

    def action_no(self) -> None:
        self.dismiss(False)


FLYING = (
    "Each seat has one key. It does what stands on that seat's line.\nTime runs whether or not you do anything.\n\n"
)


def help_text(keys: dict[str, str], actions: Iterable[KeyAction] = KEYS, words: str = FLYING) -> Text:
    """*words*, the keys as they are mapped now (*keys*: action to key), and the marks."""
    text = Text()
    text.append(words, style=PLAIN)
    group = ""
    for action in actions:
        if action.group != group:
            group = action.group
            text.append(f"{group}\n", style=STRONG)
        text.append(f"  {keys.get(action.name, action.shown):8}", style=STRONG)
        text.append(f"{action.title}\n", style=PLAIN)
    text.append("  ctrl+p  ", style=STRONG)
    text.append("Every action by name\n\n", style=PLAIN)
    text.append("Marks\n", style=STRONG)
    for row, meaning in LEGEND:
        text.append(f"  {SHAPES[row]}  ", style=STRONG)
        text.append(f"{meaning}\n", style=PLAIN)
    text.append("\nRed is a warning and amber a caution; nothing else has a colour.\n", style=DIM)
    text.append(f"{DISCLAIMER}\n", style=DIM)
    return text


def slips_text(deck: Deck, session: Session, vantage: Vantage = BOTH_SEATS) -> Text:
    """Every deviation so far, with what was expected, why, and who caught it."""
    text = Text()
    heading = f"Ended: {session.ended}" if session.ended else "So far"
    text.append(f"{heading}, {clock(session.at)}\n\n", style=STRONG)
    if session.withhold and not session.ended:
        text.append("Prompts are withheld until the debrief.\n", style=DIM)
        _heard(text, session)
        return text
    due = prompts(deck, session, vantage) if session.aid == "guided" and not session.ended else []
    if due:
        text.append("Due now\n", style=STRONG)
        for notice in sorted(due, key=lambda n: n.at):
            text.append(f"{clock(notice.at)}  ", style=DIM)
            text.append(f"{notice.text}\n", style=PLAIN)
        text.append("\nWhat slipped\n", style=STRONG)
    standing = [d for d in session.deviations if d.superseded_by is None]
    for d in standing:
        text.append(f"{clock(d.at)}  ", style=DIM)
        text.append(d.slip.replace("_", " "), style=WEIGHTS[str(d.severity)])
        text.append(f"  {sentence(deck, d)}\n", style=PLAIN)
        if d.reason:
            text.append(f"          {d.reason}\n", style=DIM)
        if d.trapped_by is not None and d.trapped_at is not None:
            by = d.trapped_by.replace("_", " ")
            text.append(f"          caught by the {by} after {(d.trapped_at - d.at) // 1000} s\n", style=DIM)
        else:
            text.append("          not caught\n", style=PLAIN)
    if not standing:
        known = "Nothing slipped.\n" if session.ended or not session.sealed else "Nothing that is known of slipped.\n"
        text.append(known, style=PLAIN)
    _heard(text, session)
    done = sum(1 for state in session.items.values() if state.is_done)
    seen = sum(1 for state in session.items.values() if state.evidence == "seen")
    text.append(f"\n{done} things done in the phases that stand, {seen} of them seen by the aircraft.\n", style=PLAIN)
    text.append(f"\n{DISCLAIMER}\n", style=DIM)
    return text


def _heard(text: Text, session: Session) -> None:
    """What was said from outside, in full."""
    if not session.remarks:
        return
    text.append("\nHeard\n", style=STRONG)
    for at, words in session.remarks:
        text.append(f"{clock(at)}  ", style=DIM)
        text.append(f"{safe(words)}\n", style=PLAIN)
