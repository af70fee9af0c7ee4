"""Something that is owed, in a phase, by a pilot who is not in the seat there (`seats:` of the phase).

A line that nobody is there to answer, a list without its reader, an item that must come first and whose owner is
walking round the aeroplane. Where one seat is empty there is no second role either.
"""

from collections.abc import Iterator

from flowdeck.model.deck import Phase
from flowdeck.model.diagnostic import Level
from flowdeck.model.seats import Owner
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal"
_MEND = "give it to who is there, or mend seats: of the phase"


def find(s: Subject) -> Iterator[Finding]:
    for item in s.deck.items.values():
        away = [name for name in item.phases if _is_away(item.by, s.deck.phases[name])]
        if away:
            follow = [
                other.id for other in s.deck.items.values() if any(e.hard and e.before == item.id for e in other.after)
            ]
            wait = f", and '{follow[0]}' must wait for it" if follow else ""
            yield s.at(item.id, "by"), f"'{item.id}' is owed by {_said(item.by, s.deck.phases[away[0]])}{wait}; {_MEND}"
    for each in s.deck.checklists.values():
        phase = s.deck.phases[each.phase]
        for field, owner in (("called_by", each.called_by), ("read_by", each.read_by)):
            if _is_away(owner, phase):
                verb = field.replace("_", " ")
                yield s.at(each.id, field), f"'{each.id}' is {verb} {_said(owner, phase)}; {_MEND}"


def _is_away(owner: Owner, phase: Phase) -> bool:
    if len(phase.seats) == 2 or owner is Owner.EITHER:
        return False
    return owner not in (Owner(phase.seats[0]), Owner.PILOT_FLYING)


def _said(owner: Owner, phase: Phase) -> str:
    if owner is Owner.BOTH:
        return f"both, and the {phase.seats[0].other.label.lower()} is not there in '{phase.id}'"
    return f"the {owner.replace('_', ' ')}, who is not there in '{phase.id}'"
