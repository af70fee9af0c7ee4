"""Every key of the flight screen: one table that the bindings, the palette, the help and the tests read.

Another key for an action: `--keys FILE`, YAML lines of `name: key`.
"""

from enum import Enum, auto

from msgspec import Struct

from flowdeck.model import inputs as inp


class Whose(Enum):
    """Who has a key where several share a flight (the host decides it; what is refused need not be offered)."""

    ANYBODY = auto()
    PILOT = auto()
    SPEAKER = auto()
    """A pilot, or an instructor for the world outside."""
    LEADER = auto()
    """An instructor, or the crew while none is there."""
    INSTRUCTOR = auto()


class KeyAction(Struct, frozen=True, kw_only=True):
    """*name* is the binding's id and the action; *sends* the inputs it can make; *hint* its footer word."""

    name: str
    key: str
    shown: str
    title: str
    hint: str = ""
    sends: tuple[type, ...] = ()
    group: str = "Flying"
    whose: Whose = Whose.PILOT


KEYS: tuple[KeyAction, ...] = (
    KeyAction(
        name="captain",
        key="f",
        shown="f",
        title="Captain does it",
        hint="captain",
        sends=(inp.Act, inp.CallList, inp.ReadLine, inp.Answer, inp.CompleteList, inp.Point, inp.GoAround),
    ),
    KeyAction(
        name="first_officer",
        key="j",
        shown="j",
        title="First officer does it",
        hint="first officer",
        sends=(inp.Act, inp.CallList, inp.ReadLine, inp.Answer, inp.CompleteList, inp.Point, inp.GoAround),
    ),
    KeyAction(name="pick", key="slash", shown="/", title="Pick an item", hint="pick"),
    KeyAction(name="point", key="p", shown="p", title="Point at the item", sends=(inp.Point,)),
    KeyAction(
        name="tell", key="t", shown="t", title="Tell a fact", hint="tell", sends=(inp.Tell,), whose=Whose.SPEAKER
    ),
    KeyAction(name="undo", key="u", shown="u", title="Take back the last act", hint="undo", sends=(inp.Undo,)),
    KeyAction(
        name="call_list",
        key="c",
        shown="c",
        title="Call a checklist",
        hint="list",
        sends=(inp.CallList,),
        group="Lists",
    ),
    KeyAction(name="read", key="r", shown="r", title="Read the next line", sends=(inp.ReadLine,), group="Lists"),
    KeyAction(name="skip", key="s", shown="s", title="Pass over a line", sends=(inp.SkipLine,), group="Lists"),
    KeyAction(
        name="hold",
        key="h",
        shown="h",
        title="Hold or resume the list",
        hint="hold",
        sends=(inp.HoldList, inp.ResumeList),
        group="Lists",
    ),
    KeyAction(
        name="restart", key="R", shown="R", title="Restart the held list", sends=(inp.ResumeList,), group="Lists"
    ),
    KeyAction(
        name="complete", key="m", shown="m", title="Call the list complete", sends=(inp.CompleteList,), group="Lists"
    ),
    KeyAction(
        name="defer",
        key="d",
        shown="d",
        title="Put an item off to a cue",
        hint="defer",
        sends=(inp.Defer,),
        group="Lists",
    ),
    KeyAction(
        name="go_around", key="g", shown="g", title="Go around", hint="go around", sends=(inp.GoAround,), group="Crew"
    ),
    KeyAction(
        name="discontinue", key="G", shown="G", title="Discontinue the approach", sends=(inp.GoAround,), group="Crew"
    ),
    KeyAction(
        name="transfer",
        key="x",
        shown="x",
        title="Transfer control: offer, take, confirm",
        sends=(inp.Transfer,),
        group="Crew",
    ),
    KeyAction(name="take_over", key="X", shown="X", title="Take over control", sends=(inp.TakeOver,), group="Crew"),
    KeyAction(
        name="challenge", key="k", shown="k", title="Challenge the other pilot", sends=(inp.Challenge,), group="Crew"
    ),
    KeyAction(name="reply", key="l", shown="l", title="Answer the challenge", sends=(inp.Reply,), group="Crew"),
    KeyAction(
        name="interrupt",
        key="i",
        shown="i",
        title="Something happens (instructor)",
        sends=(inp.Interrupt, inp.Tell),
        group="Crew",
        whose=Whose.INSTRUCTOR,
    ),
    KeyAction(
        name="weather",
        key="W",
        shown="W",
        title="New weather: type a report",
        sends=(inp.Revise,),
        group="Crew",
        whose=Whose.LEADER,
    ),
    KeyAction(
        name="note", key="N", shown="N", title="A note at this moment (instructor)", group="Crew", whose=Whose.LEADER
    ),
    KeyAction(
        name="pause",
        key="space",
        shown="space",
        title="Pause or go on",
        hint="pause",
        sends=(inp.Pause, inp.Unpause),
        group="Time",
        whose=Whose.LEADER,
    ),
    KeyAction(
        name="faster", key="plus", shown="+", title="Faster", sends=(inp.SetPace,), group="Time", whose=Whose.LEADER
    ),
    KeyAction(
        name="slower", key="minus", shown="-", title="Slower", sends=(inp.SetPace,), group="Time", whose=Whose.LEADER
    ),
    KeyAction(
        name="step",
        key="full_stop",
        shown=".",
        title="On to the next event",
        hint="next event",
        group="Time",
        whose=Whose.ANYBODY,
    ),
    KeyAction(
        name="aid", key="a", shown="a", title="Guided or drill", sends=(inp.SetAid,), group="Screen", whose=Whose.LEADER
    ),
    KeyAction(
        name="withhold",
        key="w",
        shown="w",
        title="Withhold prompts until the debrief",
        sends=(inp.SetAid,),
        group="Screen",
        whose=Whose.LEADER,
    ),
    KeyAction(
        name="teach", key="e", shown="e", title="Explain each item", hint="explain", group="Screen", whose=Whose.ANYBODY
    ),
    KeyAction(
        name="numbers",
        key="n",
        shown="n",
        title="Path and numbers",
        hint="numbers",
        group="Screen",
        whose=Whose.ANYBODY,
    ),
    KeyAction(
        name="path",
        key="v",
        shown="v",
        title="Show or hide the vertical path",
        hint="path",
        group="Screen",
        whose=Whose.ANYBODY,
    ),
    KeyAction(
        name="slips", key="b", shown="b", title="What slipped, and what was heard", group="Screen", whose=Whose.ANYBODY
    ),
    KeyAction(
        name="help", key="question_mark", shown="?", title="Help", hint="help", group="Screen", whose=Whose.ANYBODY
    ),
    KeyAction(name="quit", key="q", shown="q", title="Quit", group="Screen", whose=Whose.ANYBODY),
)

BY_NAME: dict[str, KeyAction] = {action.name: action for action in KEYS}
