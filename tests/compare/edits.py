"""Known edits of the small deck's files, each with the changes that it is, and no more."""

from typing import NamedTuple

from flowdeck.compare.aspects import Aspect as A
from flowdeck.compare.aspects import Thing as T
from flowdeck.compare.change import Change
from flowdeck.model.deck import Deck
from flowdeck.phasefile.loaddeck import load_deck
from tests.support.small import FILES

Told = tuple[T, A, str | None, str | None]


class Edit(NamedTuple):
    """*file*: of the small deck; each text of *swaps* stands there once. *told*: thing, aspect, old id, new id."""

    name: str
    file: str
    swaps: tuple[tuple[str, str], ...]
    told: tuple[Told, ...]


def of(thing: T, aspect: A, id_: str) -> tuple[Told, ...]:
    return ((thing, aspect, id_, id_),)


def _one(name: str, file: str, old: str, new: str, told: tuple[Told, ...]) -> Edit:
    return Edit(name, file, ((old, new),), told)


_BRAKE_EDGE = (
    "        after:\n          - {item: brake, order: hard, kind: safety, reason: The aeroplane could roll.}\n"
)
_LINE_GEAR = (
    "      - {line: ll-gear, challenge: Gear, respond: DOWN, by: pilot_flying, verifies: gear-down, "
    "seen: \"gear == 'down'\"}\n"
)
_LINE_FLAP = (
    '      - {line: ll-flap, challenge: Flap, respond: "31", by: pilot_flying, verifies: flap-land, '
    'seen: "flap_deg == 31"}\n'
)
_HOLD = '      - {hold: before-flap, title: Holding for flap, until: "flap_deg == 31"}\n'
_CABIN = "      - {item: cabin, do: Cabin, to: TOLD, by: pilot_monitoring, why: They wait for a word.}\n"
_EXTRA_FLOW = (
    "flows:\n  - flow: extra\n    title: Extra\n    by: captain\n    items:\n"
    "      - {item: extra-one, do: Extra, to: DONE, why: One more.}\n"
    "      - {item: extra-two, do: Another, to: DONE, why: Two more.}\n"
)

EDITS: tuple[Edit, ...] = (
    # Items
    _one("item added", "landing", _CABIN, _CABIN + _CABIN.replace("cabin", "seats").replace("Cabin", "Seats"),
         ((T.ACTION, A.WHOLE, None, "seats"),)),
    _one("item removed", "landing", _CABIN, "", ((T.ACTION, A.WHOLE, "cabin", None),)),
    _one("item renamed", "landing", "item: cabin", "item: cabin-told", ((T.ACTION, A.NAME, "cabin", "cabin-told"),)),
    Edit("item renamed where others name it", "ground",
         (("item: brake\n", "item: park\n"), ("item: brake, order", "item: park, order"),
          ("verifies: brake", "verifies: park"), ("done('brake')", "done('park')")),
         ((T.ACTION, A.NAME, "brake", "park"),)),
    _one("item reworded", "landing", "do: Cabin", "do: Cabin crew", of(T.ACTION, A.DO, "cabin")),
    _one("other state", "landing", "to: TOLD", "to: TOLD TO SIT", of(T.ACTION, A.TO, "cabin")),
    _one("other seat", "landing", "to: TOLD, by: pilot_monitoring", "to: TOLD, by: captain",
         of(T.ACTION, A.BY, "cabin")),
    _one("other seat for a flow", "landing", "title: Roll-out\n    by: pilot_flying",
         "title: Roll-out\n    by: captain", of(T.ACTION, A.BY, "reverse")),
    _one("why", "landing", "They wait for a word.", "They wait for one word.", of(T.ACTION, A.WHY, "cabin")),
    Edit("item to another flow", "approach",
         (("      - {item: brief, do: Briefing, to: GIVEN, by: both, why: Both know the plan.}\n", ""),
          ("    ordered: false\n    items:\n", "    ordered: false\n    items:\n"
           "      - {item: brief, do: Briefing, to: GIVEN, by: both, opens: cleared, why: Both know the plan.}\n")),
         (*of(T.ACTION, A.PLACE, "brief"), *of(T.ACTION, A.OPENS, "brief"))),
    Edit("items in another order", "landing",
         ((_CABIN, ""), ("      - item: reverse\n", _CABIN + "      - item: reverse\n")),
         of(T.ACTION, A.ORDER, "cabin")),
    _one("in any order", "landing", "    opens: \"on_ground\"\n", "    opens: \"on_ground\"\n    ordered: false\n",
         of(T.FLOW, A.ORDERED, "rollout")),
    _one("flow's title", "landing", "title: Roll-out", "title: Rolling out", of(T.FLOW, A.TITLE, "rollout")),
    _one("flow renamed", "landing", "flow: rollout", "flow: roll-out", ((T.FLOW, A.NAME, "rollout", "roll-out"),)),
    _one("flow added", "landing", "flows:\n", _EXTRA_FLOW, ((T.FLOW, A.WHOLE, None, "extra"),)),
    # Windows
    _one("opens", "approach", 'opens: "altitude_ft < 2500"', 'opens: "altitude_ft < 2200"',
         of(T.ACTION, A.OPENS, "missed")),
    _one("opens of a flow", "approach", 'opens: "distance_nm <= 10"', 'opens: "distance_nm <= 9"',
         of(T.FLOW, A.OPENS, "configuring")),
    _one("due", "approach", "due: {after_s: 30}", "due: {after_s: 40}", of(T.ACTION, A.DUE, "speed")),
    _one("late", "approach", 'late: "height_aal_ft < 1500"', 'late: "height_aal_ft < 1300"',
         of(T.ACTION, A.LATE, "gear-down")),
    _one("late no more", "approach", '        late: "height_aal_ft < 1500"\n', "", of(T.ACTION, A.LATE, "gear-down")),
    _one("missed", "approach", "missed: {after_s: 20}", "missed: {after_s: 25}", of(T.CALL, A.MISSED, "to-go")),
    _one("complete by", "approach", 'complete_by: "height_aal_ft <= 900"', 'complete_by: "height_aal_ft <= 950"',
         of(T.CHECKLIST, A.COMPLETE_BY, "landing-list")),
    _one("when", "landing", "to: TOLD, by", 'to: TOLD, when: "not wet", by', of(T.ACTION, A.WHEN, "cabin")),
    _one("unless", "landing", "to: TOLD, by", "to: TOLD, unless: wet, by", of(T.ACTION, A.UNLESS, "cabin")),
    _one("seen", "landing", "seen: \"reverse == 'full'\"", "seen: \"reverse in ('full', 'idle')\"",
         of(T.ACTION, A.SEEN, "reverse")),
    _one("early", "approach", "early: The autopilot would level off.", "early: It would level off.",
         of(T.ACTION, A.EARLY, "missed")),
    # Edges, needs, moves
    _one("hard edge removed", "ground", _BRAKE_EDGE, "", of(T.ACTION, A.EDGE, "cut")),
    _one("hard edge made flow order", "approach", "order: hard, kind: safety, reason: The warning for gear stays "
         "silent otherwise.", "order: flow", of(T.ACTION, A.EDGE, "flap-land")),
    _one("hard edge in an ordered flow made flow order", "ground",
         "{item: brake, order: hard, kind: safety, reason: The aeroplane could roll.}", "{item: brake, order: flow}",
         of(T.ACTION, A.EDGE, "cut")),
    _one("edge added", "approach", "        why: Landing flap.", "          - {item: missed, order: flow}\n"
         "        why: Landing flap.", of(T.ACTION, A.EDGE, "flap-land")),
    _one("edge's reason", "approach", "stays silent otherwise", "is silent otherwise",
         of(T.ACTION, A.EDGE_REASON, "flap-land")),
    _one("edge's kind", "approach", "order: hard, kind: safety", "order: hard, kind: order",
         of(T.ACTION, A.EDGE_KIND, "flap-land")),
    _one("need", "approach", "ias_kt <= 220", "ias_kt <= 210", of(T.ACTION, A.NEED, "gear-down")),
    _one("need's reason", "approach", "The doors do not stand more.", "The doors stand no more.",
         of(T.ACTION, A.NEED_REASON, "gear-down")),
    _one("need's kind", "approach", "kind: damage", "kind: safety", of(T.ACTION, A.NEED_KIND, "gear-down")),
    _one("move", "approach", "moves: {gear: down, in_s: 6}", "moves: {gear: down, in_s: 7}",
         of(T.ACTION, A.MOVE, "gear-down")),
    _one("flag", "approach", "        critical: true\n", "", of(T.ACTION, A.CRITICAL, "gear-down")),
    _one("deferral", "ground", "defer: on-ground, ", "", of(T.ACTION, A.CUE, "papers")),
    _one("reopened by", "approach", "reopened_by: runway_changed", "reopened_by: [runway_changed, wet]",
         of(T.ACTION, A.REOPENED_BY, "aids")),
    # Checklists
    _one("caller", "approach", "called_by: pilot_flying", "called_by: captain",
         of(T.CHECKLIST, A.CALLED_BY, "landing-list")),
    _one("reader", "approach", "read_by: pilot_monitoring", "read_by: first_officer",
         of(T.CHECKLIST, A.READ_BY, "landing-list")),
    _one("mode", "ground", "mode: verify", "mode: read_do", of(T.CHECKLIST, A.MODE, "ground-list")),
    _one("completion", "ground", "completion: Ground checklist complete", "completion: Ground list complete",
         of(T.CHECKLIST, A.COMPLETION, "ground-list")),
    _one("list's why", "ground", "Nothing rolls, nothing turns.", "Nothing rolls.",
         of(T.CHECKLIST, A.WHY, "ground-list")),
    _one("line removed", "approach", _LINE_GEAR, "", ((T.LINE, A.WHOLE, "ll-gear", None),)),
    _one("response", "approach", "respond: DOWN", "respond: DOWN AND LOCKED", of(T.LINE, A.TO, "ll-gear")),
    Edit("lines in another order", "approach", ((_LINE_GEAR, ""), (_LINE_FLAP, _LINE_FLAP + _LINE_GEAR)),
         of(T.LINE, A.ORDER, "ll-gear")),
    _one("hold's end", "approach", 'until: "flap_deg == 31"}', 'until: "flap_deg >= 20"}',
         of(T.HOLD, A.UNTIL, "before-flap")),
    _one("hold removed", "approach", _HOLD, "", ((T.HOLD, A.WHOLE, "before-flap", None),)),
    Edit("hold elsewhere", "approach", ((_HOLD, ""), (_LINE_GEAR, _HOLD + _LINE_GEAR)),
         of(T.HOLD, A.ORDER, "before-flap")),
    # Calls, standing items, gates
    _one("call reworded", "approach", "say: One thousand to go", "say: One to go", of(T.CALL, A.DO, "to-go")),
    _one("answer reworded", "approach", "say: Agreed", "say: Checked", of(T.ANSWER, A.DO, "to-go-answer")),
    _one("answer's time", "approach", "say: Agreed, by: pilot_flying, within_s: 5",
         "say: Agreed, by: pilot_flying, within_s: 6", of(T.ANSWER, A.MISSED, "to-go-answer")),
    _one("answer no more", "approach", "    answer: {say: Agreed, by: pilot_flying, within_s: 5}\n", "",
         ((T.ANSWER, A.WHOLE, "to-go-answer", None),)),
    _one("call renamed", "approach", "call: to-go", "call: thousand", ((T.CALL, A.NAME, "to-go", "thousand"),)),
    _one("call's why", "approach", "Both wait for the level.", "Both look.", of(T.CALL, A.WHY, "to-go")),
    _one("standing item's seat", "approach", "by: pilot_monitoring\n    do: Engine anti-ice",
         "by: captain\n    do: Engine anti-ice", of(T.STANDING, A.BY, "anti-ice-on")),
    _one("standing item's phases", "approach", "phases: [approach, landing]", "phases: [approach, landing, go_around]",
         of(T.STANDING, A.PHASES, "anti-ice-on")),
    _one("standing item's end", "approach", "held(not in_cloud, 60)", "held(not in_cloud, 90)",
         of(T.STANDING, A.OPENS, "anti-ice-off")),
    _one("standing item renamed", "approach", "standing: anti-ice", "standing: ice",
         ((T.STANDING, A.NAME, "anti-ice-on", "ice-on"),)),
    _one("gate's moment", "approach", 'at: "height_aal_ft <= 1000"', 'at: "height_aal_ft <= 500"',
         of(T.GATE, A.AT, "stable")),
    _one("gate's condition", "approach", "      - {that: \"gear == 'down'\", words: gear}\n", "",
         of(T.GATE, A.MUST, "stable")),
    _one("gate's words", "approach", "words: landing checklist", "words: landing list",
         of(T.GATE, A.MUST_WORDS, "stable")),
    _one("gate's time", "approach", "within_s: 6}\n    why: Runway", "within_s: 5}\n    why: Runway",
         of(T.GATE, A.WITHIN_S, "stable")),
    _one("gate's order", "approach", "fail: {go: go_around, within_s: 6}", "fail: {stops: [flap-land]}",
         (*of(T.GATE, A.ORDERS, "stable"), *of(T.GATE, A.STOPS, "stable"))),
    _one("gate's stops", "ground", "fail: {stops: [cut]}", "fail: {stops: [cut, papers]}",
         of(T.GATE, A.STOPS, "power")),
    # Phases and the deck
    _one("way out", "landing", 'when: "vacated"', 'when: "vacated and on_ground"', of(T.PHASE, A.EXIT, "landing")),
    _one("strip", "approach", "strip: [altitude_ft, ias_kt]", "strip: [ias_kt, altitude_ft]",
         of(T.PHASE, A.STRIP, "approach")),
    _one("committed", "deck", "reverse != 'stowed'", "reverse == 'full'", of(T.DECK, A.COMMITTED, "small")),
    _one("sterile", "deck", "altitude_ft < 10000", "altitude_ft < 9000", of(T.DECK, A.STERILE, "small")),
    _one("version", "deck", 'version: "1"', 'version: "2"', of(T.DECK, A.VERSION, "small")),
    _one("status", "deck", "status: draft", "status: trial", of(T.DECK, A.STATUS, "small")),
    _one("deck renamed", "deck", "deck: small\n", "deck: smaller\n", ((T.DECK, A.NAME, "small", "smaller"),)),
    _one("fact", "deck", "by: outside}\n  vacated", "by: crew}\n  vacated", of(T.FACT, A.BY, "cleared")),
    _one("fact added", "deck", "facts:\n", "facts:\n  icy: {title: Icy}\n", ((T.FACT, A.WHOLE, None, "icy"),)),
    _one("mark", "deck", "rising(on_ground)", "on_ground", of(T.MARK, A.WHEN, "touchdown")),
    _one("mark renamed", "deck", "  touchdown:", "  down:", ((T.MARK, A.NAME, "touchdown", "down"),)),
    _one("cue", "deck", "title: On the ground", "title: Down", of(T.CUE, A.TITLE, "on-ground")),
    _one("policy", "deck", "facts:\n", "policy: {look_s: 1}\nfacts:\n", of(T.POLICY, A.FIGURE, "look_s")),
    _one("signal", "deck", "facts:\n", "signals:\n  door: {title: Door, flag: true}\nfacts:\n",
         ((T.SIGNAL, A.WHOLE, None, "door"),)),
    _one("term", "deck", "facts:\n", "glossary: {AAL: above it}\nfacts:\n", ((T.TERM, A.WHOLE, None, "AAL"),)),
    # Nothing that anybody would meet
    _one("a comment", "landing", "flows:\n", "flows:  # silent\n", ()),
    _one("blanks in a condition", "approach", '"distance_nm <= 10"', '" distance_nm<=(10.0)"', ()),
)  # fmt: skip


def edited(*edits: Edit) -> Deck | None:
    """The small deck with *edits*; None where two of them are of the same words."""
    files = dict(FILES)
    for edit in edits:
        name = f"{edit.file}.yaml"
        for old, new in edit.swaps:
            if files[name].count(old) != 1:
                return None
            files[name] = files[name].replace(old, new)
    return load_deck("small", {name: text.encode() for name, text in files.items()})[0]


def told(change: Change) -> Told:
    """What a change is, without its texts."""
    return change.thing, change.aspect, change.old and change.old.id, change.new and change.new.id
