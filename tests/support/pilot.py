"""Keys for a screen under test, and the moment at which it has answered them.

The pilot of the library waits after each key until the process seems idle, a fiftieth of a second and more each time.
A screen has answered when nobody on it has a message left; its queues tell that at once, however busy the machine is.
"""

import unicodedata

from textual import events
from textual.keys import _character_to_key, _get_unicode_name_from_key  # what the library's pilot makes of a key
from textual.message_pump import MessagePump
from textual.pilot import Pilot

_ROUNDS = 1000
"""More than any key makes: a screen that never comes to rest fails the test instead of stopping it."""


def _waiting(pilot: Pilot[None]) -> int:
    """Messages that nobody has taken yet, on all screens that lie over each other."""
    app = pilot.app
    pumps: list[MessagePump] = [app]
    for screen in app.screen_stack:
        pumps += screen.walk_children(with_self=True)
    return sum(pump.message_queue_size for pump in pumps)


async def rest(pilot: Pilot[None]) -> None:
    """Return when all that was sent has been taken, and the screen is drawn: twice nothing waits, before and after."""
    quiet = 0
    for _ in range(_ROUNDS):
        quiet = quiet + 1 if _waiting(pilot) == 0 else 0
        await pilot.pause(0)  # each has taken what was there before; what is changed is drawn
        if not pilot.app.is_running or (quiet >= 2 and _waiting(pilot) == 0):
            return
    raise AssertionError("the screen does not come to rest")


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys, by name or by character, each when the one before it has been answered."""
    for each in keys:
        key = _character_to_key(each) if len(each) == 1 else each
        try:
            character = unicodedata.lookup(_get_unicode_name_from_key(key))
        except KeyError:
            character = each if len(each) == 1 else None
        pilot.app.post_message(events.Key(key, character))
        await pilot.app.animator.wait_until_complete()
        await rest(pilot)
