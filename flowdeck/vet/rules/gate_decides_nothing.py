"""A gate that every flight passes, or that none can pass.

The first costs attention and stops nobody; the second makes the crew learn to go on in spite of it. What must hold is
asked at the moment of the gate: `height_aal_ft <= 1000` there makes `height_aal_ft < 2000` hold by itself.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.owing import claims_of
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    for gate in s.deck.gates.values():
        asked = claims_of(gate, gate.at)
        phases = [phase for phase in gate.phases if not s.prover.never(*asked, phase=phase)]
        musts = [(must.that, "true") for must in gate.must]
        if phases and all(s.prover.never(*asked, *[(m.that, "true") for m in gate.must], phase=p) for p in phases):
            yield s.at(gate.id), f"'{gate.id}' can never be passed: what it asks for cannot hold when {s.text(gate.at)}"
            continue
        for number, (row, _) in enumerate(musts):
            if phases and all(s.prover.never(*asked, (row, "not true"), phase=phase) for phase in phases):
                message = f"'{gate.id}' asks for {s.text(row)}, which always holds at that moment"
                yield s.at(gate.id, "must", number), message
