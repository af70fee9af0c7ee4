"""What a command that flew a flight says at its end, and its exit status."""

import sys

from flowdeck.live.host import Host
from flowdeck.live.seated import Seated


def ending(host: Host) -> int:
    """Say how the flight ended and where it is kept. 0: fine, 1: a deviation of caution or above, 2: not kept."""
    session = host.flight.session
    if host.pilots and not session.ended:  # it may be taken up again: what is sealed is not counted
        session = Seated(host).flight.session
    weighty = [d for d in session.deviations if d.severity.is_weighty and d.superseded_by is None]
    end = session.ended or f"left in {session.phase.replace('_', '-')}"
    print(f"{end}; {len(session.deviations)} deviations, {len(weighty)} of caution or above")
    if host.journal is not None:
        print(host.trouble or f"journal: {host.journal.path}", file=sys.stderr if host.trouble else sys.stdout)
    return 2 if host.trouble else 1 if weighty else 0
