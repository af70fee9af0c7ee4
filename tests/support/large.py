"""A deck as large as anyone will ever write: the small one with thousands of items more, in each of its phases."""

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
_PHASES = ("approach.yaml", "landing.yaml", "ground.yaml", "go_around.yaml")


def large_files(items: int) -> dict[str, str]:
    """The files of a deck with at least *items* items, in flows of twenty that open one after the other."""
    parts: dict[str, list[str]] = {name: [] for name in _PHASES}
    for flow in range(-(-items // 20)):
        here = parts[_PHASES[flow % len(_PHASES)]]
        here.append(_FLOW.format(flow=flow, by="pilot_flying" if flow % 8 < 4 else "pilot_monitoring"))
        for item in range(20):
            number = flow * 20 + item
            at = 20 - 20 * number / items
            here.append(_ITEM.format(flow=flow, item=item, at=at, below=1000 + number % 900, late=30))
    files = dict(FILES)
    for name, texts in parts.items():
        files[name] = files[name].replace("flows:\n", "flows:" + "".join(texts), 1)
    return files


def large_deck(items: int) -> Deck:
    """Such a deck, loaded."""
    return load_deck("large", {name: text.encode() for name, text in large_files(items).items()})[0]
