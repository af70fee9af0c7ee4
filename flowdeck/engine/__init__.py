"""The engine: inputs to events (`decide`), events to a session (`evolve`, `fold`).

Importing it loads neither Textual nor asyncio nor YAML.
"""

from flowdeck.engine.decide import decide, start
from flowdeck.engine.evolve import evolve, fold

__all__ = ["decide", "evolve", "fold", "start"]
