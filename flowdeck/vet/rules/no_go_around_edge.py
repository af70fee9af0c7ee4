"""An approach or landing phase from which the crew cannot go around.

A phase that lies between two airborne ones, or in which the aeroplane touches down, and that is not airborne itself; a
go-around from which no new approach can be made; a deck whose `committed` is true from the start. Say `airborne: true`,
and let `committed` be what ends it.
"""

from collections.abc import Iterator

from flowdeck.conditions import facts_used
from flowdeck.model.condition import Const, SignalRef
from flowdeck.model.diagnostic import Level
from flowdeck.vet.proof import Possible
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal, after FSF ALAR briefing notes 6.1 and 6.2 (second-hand)"

LANDING_KT = 80.0
"""What opens on the ground, and at this speed too, opens at touchdown; slower it may be of the taxi."""


def find(s: Subject) -> Iterator[Finding]:
    deck = s.deck
    if s.prover.never((deck.committed, "not true")):
        text = s.text(deck.committed)
        yield s.places.in_deck("committed"), f"no go-around can be made anywhere, since {text} always holds"
        return
    airborne = [name for name, phase in deck.phases.items() if phase.airborne and name in s.ways.reached]
    for name in airborne:
        if s.ways.is_committed(name):
            text = s.text(deck.committed)
            yield s.at(name), f"in '{name}' no go-around can be made, since {text} always holds there"
    if deck.start not in airborne:
        yield s.places.in_deck("start"), f"no go-around leads out of '{deck.start}'; say there airborne: true"
    if not deck.phases[deck.go_around].airborne:
        message = f"a go-around cannot be given up for another one in '{deck.go_around}'; say there airborne: true"
        yield s.at(deck.go_around), message
    elif deck.go_around in airborne and not s.ways.after(deck.go_around) & set(airborne) - {deck.go_around}:
        yield s.at(deck.go_around), f"from '{deck.go_around}' no way leads to another approach"
    for name in deck.phases:
        if name in airborne or name not in s.ways.reached:
            continue
        if deck.phases[name].clears:
            continue  # a new flight begins there
        touchdown = _touches_down_in(s, name, airborne)
        if touchdown:
            message = (
                f"the aeroplane touches down in '{name}' ('{touchdown}' opens then), and no go-around is open in it"
            )
            yield s.at(name), f"{message}; say there airborne: true"
            continue
        ahead = sorted(s.ways.after(name) & set(airborne))
        if ahead:
            yield s.at(name), f"'{name}' leads to '{ahead[0]}' and is not airborne itself; no go-around is open in it"


def _touches_down_in(s: Subject, name: str, airborne: list[str]) -> str:
    """What opens only on the ground in a phase that an airborne one leads to before the ground is proved."""
    flying = s.prover.shown("on_ground", False)
    entered = [
        way
        for phase in airborne
        for way in s.deck.phases[phase].exits
        if way.to == name and not s.prover.never((way.when, "true"), phase=phase, also=flying)
    ]
    if not entered:
        return ""
    fast = s.prover.compared(SignalRef("groundspeed_kt"), ">=", Const(LANDING_KT))
    for item in s.actions:
        if item.phases != (name,) or item.opens is None or facts_used(s.deck.conditions[item.opens].tree):
            continue
        rolling = isinstance(s.prover.can((item.opens, "true"), also=fast), Possible)
        if rolling and s.prover.never((item.opens, "true"), also=flying):
            return item.id
    return ""
