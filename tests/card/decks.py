"""Decks with any words in them, for what must hold of the cards of any deck."""

from hypothesis import strategies as st
from msgspec.structs import replace

from flowdeck.model.deck import Checklist, Deck, Edge, Group, HoldPoint, Item, ItemKind, Need
from flowdeck.model.seats import Owner
from tests.support.small import small_deck

LONGEST = 600
"""Letters of a text in a phase file."""
_LETTERS = st.sampled_from(list("aeinrst ilWM  GEAR \u2265\u017d\u4e2d\u0301-,{}<&"))
words = st.one_of(
    st.text(_LETTERS, min_size=1, max_size=25),
    st.text(_LETTERS, min_size=1, max_size=80),
    st.builds(  # a few words over and over: six hundred letters drawn one by one take longer than all the checks
        lambda part, size: (part * size)[:size],
        st.text(_LETTERS, min_size=1, max_size=40),
        st.integers(LONGEST - 100, LONGEST),
    ),
)
short = st.text(_LETTERS, min_size=1, max_size=30)
owners = st.sampled_from(list(Owner))
refs = st.none() | st.integers(0, len(small_deck().conditions) - 1)
edges = st.lists(st.builds(Edge, before=st.just("gear-down"), hard=st.booleans(), reason=words), max_size=2)
needs = st.lists(st.builds(Need, that=st.integers(0, 5), reason=words), max_size=2)


def _item(kind: ItemKind) -> st.SearchStrategy[Item]:
    return st.builds(
        Item,
        id=st.just(""),
        kind=st.just(kind),
        phases=st.just(("approach",)),
        group=st.just(""),
        by=owners,
        do=words if kind is ItemKind.CALL else short,
        to=short if kind is not ItemKind.CALL else st.just(""),
        opens=refs if kind is not ItemKind.LINE else st.none(),
        when=refs,
        unless=refs,
        after=edges.map(tuple) if kind is not ItemKind.LINE else st.just(()),
        needs=needs.map(tuple),
        critical=st.booleans(),
        point=st.booleans(),
    )


_wordy = _item(ItemKind.LINE).flatmap(lambda item: st.builds(replace, st.just(item), do=words, to=words))
lines = st.lists(st.one_of(_item(ItemKind.LINE), _item(ItemKind.LINE), _wordy), min_size=1, max_size=30)


@st.composite
def decks(draw: st.DrawFn) -> Deck:
    """The small deck with other lists, flows and calls; identity and glossary of any words."""
    small = small_deck()
    items: dict[str, Item] = {"gear-down": small.items["gear-down"]}
    checklists: dict[str, Checklist] = {}
    for i, drawn in enumerate(draw(st.lists(lines, min_size=1, max_size=4))):
        ids = tuple(f"list-{i}-{n}" for n in range(len(drawn)))
        items |= {ref: replace(item, id=ref, group=f"list-{i}") for ref, item in zip(ids, drawn, strict=True)}
        hold = HoldPoint(id=f"hold-{i}", title=draw(short), before=draw(st.integers(0, len(ids))), until=0)
        checklists[f"list-{i}"] = replace(
            small.checklists["landing-list"],
            id=f"list-{i}",
            title=draw(words),
            lines=ids,
            holds=(hold,) if draw(st.booleans()) else (),
            completion=draw(words),
            after=tuple(draw(edges)),
        )
    groups: dict[str, Group] = {}
    for kind, of in (("flow", ItemKind.ACTION), ("calls", ItemKind.CALL), ("standing", ItemKind.STANDING_ON)):
        drawn = draw(st.lists(_item(of), min_size=1, max_size=25))
        ids = tuple(f"{kind}-{n}" for n in range(len(drawn)))
        items |= {ref: replace(item, id=ref, group=kind) for ref, item in zip(ids, drawn, strict=True)}
        groups[kind] = Group(id=kind, title=draw(short), phase="approach", kind=kind, items=ids)
    identity = replace(small.identity, title=draw(words), operator=draw(short), effectivity=draw(words))
    glossary = draw(st.dictionaries(short, words, max_size=3))
    return replace(
        small, items=items, checklists=checklists, groups=groups, identity=identity, glossary=glossary
    )  # fmt: skip
