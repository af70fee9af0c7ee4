"""Two texts side by side, what differs between them marked word by word, as markup."""

import re
from difflib import SequenceMatcher

from flowdeck.view.html import text

_WORDS = re.compile(r"\s+|[\w.]+|[<>=!]=|[^\w\s]")
LONGEST = 400
"""Words of a text that are compared; a condition or a reason has fewer."""


def marked(old: str, new: str) -> tuple[str, str]:
    """Both as markup, `<del>` in the old and `<ins>` in the new. Very long texts are marked as a whole."""
    was, now = _WORDS.findall(old), _WORDS.findall(new)
    if len(was) > LONGEST or len(now) > LONGEST:
        return f"<del>{text(old)}</del>", f"<ins>{text(new)}</ins>"
    left, right = [], []
    for how, a, b, c, d in SequenceMatcher(None, was, now, autojunk=False).get_opcodes():
        gone, come = text("".join(was[a:b])), text("".join(now[c:d]))
        if how == "equal":
            left.append(gone)
            right.append(come)
            continue
        left.append(f"<del>{gone}</del>" if gone else "")
        right.append(f"<ins>{come}</ins>" if come else "")
    return "".join(left), "".join(right)
