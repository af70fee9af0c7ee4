"""What the program runs in."""

import shutil
import sys


def has_terminal() -> bool:
    """Whether a screen can be shown and keys be heard."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def columns(widest: int) -> int:
    """Columns for a report: those of the terminal from 60 to *widest*; *widest* into a file."""
    found = shutil.get_terminal_size((widest, 24)).columns if sys.stdout.isatty() else widest
    return max(60, min(widest, found))
