"""flowdeck: checklists, silent flows, calls and gates of a two-pilot arrival, held and judged.

Training and simulation only. The approved documents of operator and manufacturer, local rules and
licensed instruction win over anything this program shows.
"""

__version__ = "0.1.0"

DISCLAIMER = (
    "Training and simulation only. The approved documents of operator and manufacturer, local rules "
    "and licensed instruction win."
)
