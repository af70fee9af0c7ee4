"""Every key of the screen on which a flight is looked at again."""

from flowdeck.tui.keys import KeyAction

REPLAY_KEYS: tuple[KeyAction, ...] = (
    KeyAction(name="play", key="space", shown="space", title="Play or stand still", hint="play", group="Time"),
    KeyAction(name="back", key="left", shown="←", title="Ten seconds back", hint="10 s back", group="Time"),
    KeyAction(name="on", key="right", shown="→", title="Ten seconds on", hint="10 s on", group="Time"),
    KeyAction(name="far_back", key="shift+left", shown="shift+←", title="A minute back", group="Time"),
    KeyAction(name="far_on", key="shift+right", shown="shift+→", title="A minute on", group="Time"),
    KeyAction(name="mark_before", key="comma", shown=",", title="To the bookmark before", hint="before", group="Time"),
    KeyAction(name="mark_next", key="full_stop", shown=".", title="To the next bookmark", hint="next", group="Time"),
    KeyAction(name="marks", key="m", shown="m", title="Pick a bookmark", hint="marks", group="Time"),
    KeyAction(name="faster", key="plus", shown="+", title="Faster", group="Time"),
    KeyAction(name="slower", key="minus", shown="-", title="Slower, then backwards", group="Time"),
    KeyAction(name="first", key="home", shown="home", title="To the beginning", group="Time"),
    KeyAction(name="last", key="end", shown="end", title="To the end", group="Time"),
    KeyAction(name="note", key="N", shown="N", title="A note at this moment", hint="note", group="Debrief"),
    KeyAction(name="debrief", key="d", shown="d", title="The debrief", hint="debrief", group="Debrief"),
    KeyAction(name="slips", key="b", shown="b", title="What had slipped by now", group="Debrief"),
    KeyAction(name="teach", key="e", shown="e", title="Explain each item", group="Screen"),
    KeyAction(name="numbers", key="n", shown="n", title="Path and numbers", group="Screen"),
    KeyAction(name="path", key="v", shown="v", title="Show or hide the vertical path", hint="path", group="Screen"),
    KeyAction(name="help", key="question_mark", shown="?", title="Help", hint="help", group="Screen"),
    KeyAction(name="quit", key="q", shown="q", title="Leave", group="Screen"),
)
