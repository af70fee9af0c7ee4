"""Leaving a flight: always asked first, once, and nothing is said to be kept that is not."""

from pathlib import Path

import pytest

from flowdeck.live.journal import Journal
from flowdeck.tui.screens.pages import Confirm
from tests.support.cockpit import bundled, cockpit


@pytest.mark.parametrize("key", ["ctrl+q", "ctrl+c", "q"])
async def test_no_key_leaves_without_a_question(key: str, tmp_path: Path) -> None:
    """Asked once however often it is pressed; a journal that was removed is not said to keep the flight."""
    journal = Journal.create(str(tmp_path / "A.journal"), *bundled("clean"), solo=True)
    async with cockpit("clean", journal=journal) as c:
        (tmp_path / "A.journal").unlink()
        journal.commit()
        await c.press(key, "ctrl+q", "ctrl+c")
        question = c.app.screen
        assert isinstance(question, Confirm)
        asked = "Leave the flight? Nothing is being saved: the journal was removed (A.journal)."
        assert str(question.query_one("#question").render()).startswith(asked)
        await c.press("n")
        assert c.app.screen is c.app.flight
