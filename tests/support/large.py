"""A deck as large as anyone will ever write: the small one with thousands of items more in its first phase's flows."""

from flowdeck.model.deck import Deck
from flowdeck.phasefile.loaddeck import load_deck
from tests.support.small import FILES

_FLOW = """
  - flow: more-{flow}
    title: More {flow}
    by: {by}
    ordered: false
    items:
"""
_ITEM = """
      - item: more-{flow}-{item}
        do: Panel {flow}, switch {item}
        to: "ON"
        opens: "distance_nm <= {at:g}"
        seen: "altitude_ft < {below} or gear == 'down'"
        late: {{after_s: {late}}}
        why: It belongs to panel {flow}, and nobody would miss it before the day that it is needed.
"""


def large_files(items: int) -> dict[str, str]:
    """The files of a deck with at least *items* items, in flows of twenty that open along the approach."""
    parts = []
    for flow in range(-(-items // 20)):
        parts.append(_FLOW.format(flow=flow, by="pilot_flying" if flow % 2 else "pilot_monitoring"))
        for item in range(20):
            number = flow * 20 + item
            parts.append(
                _ITEM.format(flow=flow, item=item, at=40 - 40 * number / items, below=1000 + number % 900, late=30)
            )
    files = dict(FILES)
    files["approach.yaml"] = files["approach.yaml"].replace("flows:\n", "flows:" + "".join(parts), 1)
    return files


def large_deck(items: int) -> Deck:
    """Such a deck, loaded."""
    return load_deck("large", {name: text.encode() for name, text in large_files(items).items()})[0]
