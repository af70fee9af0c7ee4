"""A folder's texts to a `Deck`, or to all that is wrong with them.

Order of work: each file is read and shaped on its own, so that one broken file does not hide the
findings of the others; names are collected over all files; then everything is built and checked.
"""

from collections.abc import Iterable, Iterator, Mapping
from hashlib import sha256
from keyword import iskeyword
from typing import NamedTuple

from flowdeck.conditions import Names
from flowdeck.conditions.parse import FUNCTIONS
from flowdeck.model.catalogue import by_name
from flowdeck.model.deck import Checklist, Cue, Deck, Exit, Fact, Gate, Group, Identity, Mark, Phase, Policy
from flowdeck.model.diagnostic import Diagnostic, Level, Place, Rejected
from flowdeck.model.signals import Signal, SignalKind
from flowdeck.phasefile.build_items import build_call, build_flow, build_standing
from flowdeck.phasefile.build_lists import build_gate, build_list
from flowdeck.phasefile.builder import Builder, Spot
from flowdeck.phasefile.graph import check_graph
from flowdeck.phasefile.located import Located
from flowdeck.phasefile.places import Places
from flowdeck.phasefile.read import read
from flowdeck.phasefile.shapes import DeckShape, PhaseShape, SignalShape
from flowdeck.phasefile.validate import guess

DECK_FILE = "deck.yaml"
_NEEDS_ALL_FILES = ("unknown-item", "unknown-phase", "unknown-ref", "unknown-end")
"""Findings that are worth nothing while a file of the deck cannot be read."""
_OF_ABSENCE = ("limit", "missing", "gate-fail", "hold-no-exit", "bad-hard-edge")
"""Findings that would only repeat that something in their table is wrong already."""


class Loaded(NamedTuple):
    """A deck, its warnings, and where each thing of it was written."""

    deck: Deck
    notes: tuple[Diagnostic, ...]
    places: Places


def load_deck(folder: str, files: Mapping[str, bytes]) -> tuple[Deck, tuple[Diagnostic, ...]]:
    """Build a deck from the files of its folder (name to bytes). *folder* is shown in findings.

    Returns the deck and its warnings. Raises `Rejected` with all findings when there is an error.
    """
    loaded = load_with_places(folder, files)
    return loaded.deck, loaded.notes


def load_with_places(folder: str, files: Mapping[str, bytes]) -> Loaded:
    """The same, with the places of its things."""
    root = Place(f"{folder}/{DECK_FILE}")
    if DECK_FILE not in files:
        raise Rejected(
            (Diagnostic(place=root, kind="no-deck", message=f"this folder holds no {DECK_FILE}, so it is no deck"),)
        )
    findings: list[Diagnostic] = []
    deck_file: tuple[Located, DeckShape] | None = None
    phases: list[tuple[Located, PhaseShape]] = []
    whole = 0
    touched: set[Place] = set()
    for name in sorted(files):
        try:
            located = read(f"{folder}/{name}", files[name])
        except Rejected as rejected:
            findings.extend(rejected.findings)
            continue
        if name == DECK_FILE:
            deck = guess(located, DeckShape)
            deck_file = (deck.located, deck.shape) if deck.shape is not None and deck.whole else None
            findings.extend(deck.findings)
            touched |= deck.touched
        else:
            phase = guess(located, PhaseShape)
            whole += phase.whole
            phases += [] if phase.shape is None else [(phase.located, phase.shape)]
            findings.extend(phase.findings)
            touched |= phase.touched
    if deck_file is None:
        raise Rejected(tuple(sorted(findings, key=lambda f: f.place)))
    return _Assembly(deck_file, phases, _hash(files)).finish(findings, touched, whole=whole == len(files) - 1)


def _hash(files: Mapping[str, bytes]) -> str:
    digest = sha256()
    for name in sorted(files):
        digest.update(name.encode(errors="surrogateescape") + b"\0" + files[name] + b"\0")
    return digest.hexdigest()


def make_signal(name: str, shape: SignalShape) -> Signal:
    kind = SignalKind.FLAG if shape.flag else SignalKind.CHOICE if shape.choices else SignalKind.NUMBER
    return Signal(
        name=name,
        title=shape.title,
        kind=kind,
        unit=shape.unit,
        low=shape.low,
        high=shape.high,
        choices=tuple(shape.choices),
        stale_s=None if shape.planned else shape.stale_s,
        planned=shape.planned,
        at_start=shape.start,
    )


def collect_refs(phases: Iterable[PhaseShape]) -> set[str]:
    """All ids that `done()` and `since()` may name, beside the marks for `since()`."""
    refs: set[str] = set()
    for phase in phases:
        refs.add(phase.phase)
        for flow in phase.flows:
            refs.update(item.item for item in flow.items)
        for checklist in phase.checklists:
            refs.add(checklist.checklist)
            number = 0
            for line in checklist.lines:
                if line.hold is None:
                    number += 1
                    refs.add(line.line or f"{checklist.checklist}-{number}")
        for call in phase.calls:
            refs.add(call.call)
            if call.answer is not None:
                refs.add(f"{call.call}-answer")
        for standing in phase.standing:
            refs.update({f"{standing.standing}-on", f"{standing.standing}-off"})
        refs.update(gate.gate for gate in phase.gates)
    return refs


class _Assembly:
    """The one pass that turns shapes into a deck."""

    def __init__(
        self, deck_file: tuple[Located, DeckShape], phases: list[tuple[Located, PhaseShape]], hash_: str
    ) -> None:
        self.located, self.shape = deck_file
        self.spot = Spot(self.located)
        self.hash = hash_
        self.files = self._in_flight_order(phases)
        self.own = tuple(make_signal(name, s) for name, s in self.shape.signals.items())
        self.signals = by_name(self.own)
        names = Names(
            signals=self.signals,
            facts=frozenset(self.shape.facts),
            phases=frozenset(p.phase for _, p in self.files),
            refs=frozenset(collect_refs(p for _, p in self.files)),
            marks=frozenset(self.shape.marks),
        )
        self.b = Builder(names)
        self.phases: dict[str, Phase] = {}
        self.groups: dict[str, Group] = {}
        self.checklists: dict[str, Checklist] = {}
        self.gates: dict[str, Gate] = {}

    def _in_flight_order(self, phases: list[tuple[Located, PhaseShape]]) -> list[tuple[Located, PhaseShape]]:
        """The start first, then each phase after one that leads to it, so that reports read like a flight."""
        by_id = {pair[1].phase: pair for pair in reversed(phases)}
        order: list[str] = []
        queue = [self.shape.start]
        while queue:
            name = queue.pop(0)
            if name in by_id and name not in order:
                order.append(name)
                queue.extend(e.to for e in by_id[name][1].leads_to if e.to != self.shape.go_around)
        order.append(self.shape.go_around)
        rank = {name: i for i, name in enumerate(order)}
        return sorted(phases, key=lambda pair: rank.get(pair[1].phase, len(order)))

    def finish(self, before: list[Diagnostic], touched: set[Place], *, whole: bool) -> Loaded:
        """The deck and its warnings. Raises `Rejected`.

        *before*: findings of single files, and the tables *touched* to read on in spite of them; not *whole*: a
        part of some file is missing here.
        """
        b, shape, spot = self.b, self.shape, self.spot
        self._own_names()
        for located, phase in self.files:
            self._phase(Spot(located), phase)
        committed = b.needed(shape.committed, spot / "committed")
        if shape.revised is not None:
            b.want(shape.revised, spot / "revised", "fact")
        sterile = b.condition(shape.sterile, spot / "sterile")
        marks = {
            id_: Mark(id=id_, when=b.needed(m.when, spot / "marks" / id_ / "when"), title=m.title)
            for id_, m in shape.marks.items()
        }
        cues = {
            id_: Cue(id=id_, title=c.title, when=b.needed(c.when, spot / "cues" / id_ / "when"))
            for id_, c in shape.cues.items()
        }
        facts = self._facts()
        self._references()
        deck = Deck(
            id=shape.deck,
            identity=Identity(
                title=shape.title,
                version=shape.version,
                date=shape.date,
                type=shape.type,
                operator=shape.operator,
                status=shape.status,
                effectivity=shape.effectivity,
            ),
            hash=self.hash,
            start=shape.start,
            ends=tuple(shape.ends),
            go_around=shape.go_around,
            committed=committed,
            revised=shape.revised or "",
            sterile=sterile,
            signals=tuple(self.signals.values()),
            conditions=b.table.conditions,
            phases=self.phases,
            groups=self.groups,
            items=b.items,
            checklists=self.checklists,
            gates=self.gates,
            facts=facts,
            marks=marks,
            cues=cues,
            policy=self._policy(),
            glossary=dict(shape.glossary),
        )
        found = {*before, *self._worth_saying(touched, whole)}
        if not any(f.level is Level.ERROR for f in found):
            found.update(check_graph(deck, b.ids, spot))
        findings = tuple(sorted(found, key=lambda f: (f.place, f.message)))
        if any(f.level is Level.ERROR for f in findings):
            raise Rejected(findings)
        return Loaded(deck, findings, Places(b.ids, b.rows, spot))

    def _worth_saying(self, touched: set[Place], whole: bool) -> Iterator[Diagnostic]:
        """What was found while building, without what only follows from a file's own findings."""
        for finding in (*self.b.findings, *self.b.table.findings):
            if finding.kind in _OF_ABSENCE and finding.place in touched:
                continue
            if whole or finding.kind not in _NEEDS_ALL_FILES:
                yield finding

    def _own_names(self) -> None:
        """Names of signals, facts and marks must not hide one another, nor words of the condition language."""
        b, built_in = self.b, by_name()
        for name, shape in self.shape.signals.items():
            here = self.spot / "signals" / name
            if name in built_in:
                b.find(here.key.place, "duplicate-signal", f"'{name}' is a built-in signal; give your own another name")
            if shape.start is not None:
                b.check_value(self.signals[name], shape.start, (here / "start").place)
            if shape.flag and shape.choices:
                b.find(here.key.place, "signal", f"'{name}' has both 'flag' and 'choices'; keep one")
            if (shape.flag or shape.choices) and (shape.unit or shape.low is not None or shape.high is not None):
                b.find(here.key.place, "signal", f"'{name}' is no number, so it takes no 'unit', 'low' or 'high'")
            if shape.low is not None and shape.high is not None and shape.low > shape.high:
                message = f"'{name}' has its low {shape.low:g} above its high {shape.high:g}; exchange them"
                b.find((here / "low").place, "signal", message)
        for name in self.shape.facts:
            if name in self.signals:
                place = (self.spot / "facts" / name).key.place
                b.find(place, "duplicate-fact", f"'{name}' is a signal already; give the fact another name")
        for kind in ("signals", "facts"):
            for name in getattr(self.shape, kind):
                if iskeyword(name) or name in ("phase", "true", "false", *FUNCTIONS):
                    message = f"'{name}' is a word of the condition language; give the {kind[:-1]} another name"
                    b.find((self.spot / kind / name).key.place, "reserved", message)
        for id_ in self.shape.marks:
            b.claim(id_, (self.spot / "marks" / id_).key)
        for i, end in enumerate(self.shape.ends):
            if any(phase.phase == end for _, phase in self.files):
                message = f"'{end}' is a phase and cannot be an end too; give the end another name"
                b.find((self.spot / "ends" / i).place, "end-is-phase", message)

    def _phase(self, spot: Spot, shape: PhaseShape) -> None:
        b, name = self.b, shape.phase
        here = spot / "phase"
        if name in self.phases:
            message = f"the phase '{name}' is already described in {b.ids[name].place.file}; remove one of the two"
            b.find(here.place, "duplicate-phase", message)
            return
        b.claim(name, here)
        order: list[Group] = [build_flow(b, f, name, spot / "flows" / i) for i, f in enumerate(shape.flows)]
        calls = [id_ for i, c in enumerate(shape.calls) for id_ in build_call(b, c, name, spot / "calls" / i)]
        standing = [
            id_ for i, s in enumerate(shape.standing) for id_ in build_standing(b, s, name, spot / "standing" / i)
        ]
        if calls:
            order.append(Group(id=f"{name}-calls", title="Calls", phase=name, kind="calls", items=tuple(calls)))
        if standing:
            title = "Standing items"
            order.append(Group(id=f"{name}-standing", title=title, phase=name, kind="standing", items=tuple(standing)))
        for i, c in enumerate(shape.checklists):
            built = build_list(b, c, name, spot / "checklists" / i)
            self.checklists.setdefault(built.id, built)
        for i, g in enumerate(shape.gates):
            gate = build_gate(b, g, name, spot / "gates" / i)
            self.gates.setdefault(gate.id, gate)
            if g.fail.go not in (None, self.shape.go_around) and self.shape.go_around in b.names.phases:
                message = f"a failed gate can lead only to the go-around; write go: {self.shape.go_around}"
                b.find((spot / "gates" / i / "fail" / "go").place, "gate-fail", message)
        self.groups.update({group.id: group for group in order})
        for i, signal in enumerate(shape.strip):
            b.signal(signal, spot / "strip" / i)
        exits = []
        for i, e in enumerate(shape.leads_to):
            b.want(e.to, spot / "leads_to" / i / "to", "phase or end")
            exits.append(Exit(to=e.to, when=b.needed(e.when, spot / "leads_to" / i / "when")))
        self.phases[name] = Phase(
            id=name,
            title=shape.title,
            exits=tuple(exits),
            airborne=shape.airborne,
            clears=shape.clears,
            strip=tuple(shape.strip),
            seats=tuple(dict.fromkeys(shape.seats)),
        )

    def _facts(self) -> dict[str, Fact]:
        for id_, f in self.shape.facts.items():
            for i, phase in enumerate(f.phases):
                self.b.want(phase, self.spot / "facts" / id_ / "phases" / i, "phase")
        return {
            id_: Fact(
                id=id_,
                title=f.title,
                by=f.by,
                initial=f.initial,
                phases=tuple(f.phases),
                toggles=f.toggles,
                lasts=f.lasts,
            )
            for id_, f in self.shape.facts.items()
        }

    def _policy(self) -> Policy:
        given = self.shape.policy.model_dump(exclude_none=True)
        if "burst_lines" in given:
            given["burst_lines"] = int(given["burst_lines"])
        return Policy(**given)

    def _references(self) -> None:
        b, shape, spot = self.b, self.shape, self.spot
        b.want(shape.start, spot / "start", "phase")
        b.want(shape.go_around, spot / "go_around", "phase")
        things = {*b.items, *self.checklists, *self.gates}
        b.check_wanted(
            {
                "item": things,
                "mark or item": {*shape.marks, *things},
                "fact": shape.facts,
                "cue": shape.cues,
                "phase": self.phases,
                "phase or end": {*self.phases, *shape.ends},
            }
        )
