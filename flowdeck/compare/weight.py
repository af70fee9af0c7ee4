"""What a reviser must look at hardest: three weights. Our proposal; no source orders changes so."""

from enum import StrEnum

from flowdeck.compare.aspects import Aspect, Thing
from flowdeck.compare.change import Change
from flowdeck.model.deck import Edge

A = Aspect


class Weight(StrEnum):
    """*heavy*: who does it, when, after what, and what a failed gate asks for. *light*: words alone."""

    HEAVY = "heavy"
    MIDDLE = "middle"
    LIGHT = "light"


_HEAVY = frozenset(
    {
        *(
            A.NEED,
            A.AT,
            A.MUST,
            A.ORDERS,
            A.STOPS,
            A.WITHIN_S,
            A.OPENS,
            A.DUE,
            A.LATE,
            A.MISSED,
            A.COMPLETE_BY,
            A.UNTIL,
        ),
        *(A.WHEN, A.UNLESS, A.NOT_WHILE, A.EXIT, A.COMMITTED, A.AIRBORNE, A.CLEARS, A.START, A.GO_AROUND, A.ENDS),
        *(A.BY, A.CALLED_BY, A.READ_BY, A.SEATS, A.PHASES),
    }
)
_LIGHT = frozenset(
    {
        *(A.VERSION, A.DATE, A.TYPE, A.OPERATOR, A.TITLE, A.DO, A.COMPLETION, A.MUST_WORDS, A.EDGE_REASON),
        *(A.NEED_REASON, A.STRIP, A.WHY, A.MEANING, A.NAME),
    }
)
_OF_THE_DECK = frozenset({Thing.FACT, Thing.MARK, Thing.CUE, Thing.SIGNAL, Thing.POLICY})


def weight_of(change: Change) -> Weight:
    """How hard to look at *change*; the same from either deck's view."""
    aspect, thing = change.aspect, change.thing
    if thing is Thing.TERM:
        return Weight.LIGHT
    if aspect is A.WHOLE:
        return Weight.MIDDLE if thing in _OF_THE_DECK else Weight.HEAVY
    if aspect is A.EDGE:
        hard = any(isinstance(edge, Edge) and edge.hard for edge in (change.before, change.after))
        return Weight.HEAVY if hard else Weight.MIDDLE
    if aspect is A.EARLY:  # with a reason an early act is judged at all
        return Weight.HEAVY if change.before is None or change.after is None else Weight.LIGHT
    if aspect is A.ORDER and thing in (Thing.CALL, Thing.STANDING):
        return Weight.LIGHT  # they open by their conditions, not one after the other
    if thing in _OF_THE_DECK and not (thing is Thing.MARK and aspect is A.WHEN):
        return Weight.LIGHT if aspect in _LIGHT else Weight.MIDDLE
    return Weight.HEAVY if aspect in _HEAVY else Weight.LIGHT if aspect in _LIGHT else Weight.MIDDLE
