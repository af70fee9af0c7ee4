"""What a guest's end shows of the time of a flight that is flown elsewhere."""

from flowdeck.wire.link.stations import Station
from tests.support.crewed import hosted


async def test_the_clock_never_jumps_back() -> None:
    """It runs on by itself; a word of the host that is not about the time does not set it back."""
    async with hosted() as h:
        captain = await h.guest(Station.CAPTAIN)
        await h.fly(10)
        shown = []
        for _ in range(4):
            h.clock.now += 0.1
            shown.append(captain.now)
            guests = len(captain.roster)
            await h.guest(Station.OBSERVER)
            await h.until(captain, lambda guests=guests: len(captain.roster) > guests)  # the host speaks of who came
            shown.append(captain.now)
        assert shown == sorted(shown) and shown[-1] - shown[0] >= 300
