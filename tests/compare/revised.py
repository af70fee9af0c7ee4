"""The small deck with every edit that can be made together with those before it: a revision of almost everything."""

from functools import cache

from flowdeck.compare.comparison import Comparison, compare
from flowdeck.model.deck import Deck
from flowdeck.model.diagnostic import Rejected
from tests.compare.edits import EDITS, Edit, edited
from tests.support.small import FILES, small_deck

HOSTILE = "<script>alert(1)</script> & \"quoted\" 'so' </del><ins>x"
"""Text that a file may hold; the loader refuses what would act on a terminal."""


_ALONE = ("item renamed where others name it", "call renamed", "standing item renamed")
"""With other changes of the same thing nobody would know it again, and it is two things."""


@cache
def together() -> tuple[Edit, ...]:
    chosen: list[Edit] = []
    for edit in EDITS:
        if edit.name in _ALONE:
            continue
        try:
            deck = edited(*chosen, edit)
        except Rejected:
            continue
        if deck is not None:
            chosen.append(edit)
    return tuple(chosen)


@cache
def revision() -> Comparison:
    new = edited(*together())
    assert new is not None
    return compare(small_deck(), new)


def windows_revised() -> Comparison:
    """A window that is wider, one that is later, one that cannot be told, one that moves with its opening."""
    text = FILES["approach.yaml"].replace('late: "height_aal_ft < 1500"', 'late: "height_aal_ft < 1300"')
    text = text.replace('opens: "distance_nm <= 8"', 'opens: "distance_nm <= 7"')
    text = text.replace('opens: "altitude_ft < 2500"', 'opens: "distance_nm <= 6"')
    text = text.replace("held(not in_cloud, 60)", "held(not in_cloud, 90)").replace("after_s: 30", "after_s: 20")
    return compare(small_deck(), small_deck(approach=text))


def hostile() -> Comparison:
    """Markup wherever a deck's file may hold text, in words that come, go and change."""
    words = HOSTILE.replace('"', '\\"')
    text = FILES["landing.yaml"].replace("do: Cabin", f'do: "{words}"').replace("They wait for a word.", "They wait.")
    text = text.replace("title: Roll-out", f'title: "{words}"')
    text += f'calls:\n  - {{call: new-call, say: "{words}", by: captain, opens: on_ground, why: "{words}"}}\n'
    deck = FILES["deck.yaml"].replace("title: Small deck", f'title: "{words}"')
    return compare(small_deck(), small_deck(landing=text, deck=deck))


def other_comment() -> Deck:
    return small_deck(ground=FILES["ground.yaml"] + "# the same\n")
