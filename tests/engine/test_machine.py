"""The machine of phases: a go-around from everywhere that it must be, ends from everywhere, and no text as code."""

from collections import deque

import pytest

from flowdeck.engine.fsm import PhaseMachine
from flowdeck.model.deck import Deck
from tests.support.cockpit import bundled
from tests.support.small import small_deck

DECKS = [small_deck(), bundled("clean")[0]]


def all_true_but(deck: Deck, *false: int) -> list[bool]:
    return [number not in false for number in range(len(deck.conditions))]


@pytest.mark.parametrize("deck", DECKS, ids=lambda deck: deck.id)
def test_go_around_from_every_airborne_phase_until_committed(deck: Deck) -> None:
    machine = PhaseMachine(deck)
    free, committed = all_true_but(deck, deck.committed), all_true_but(deck)
    for phase in deck.phases.values():
        expected = deck.go_around if phase.airborne and phase.id != deck.go_around else None
        assert machine.where_to(phase.id, "go_around", free) == expected
        assert machine.where_to(phase.id, "go_around", committed) is None


@pytest.mark.parametrize("deck", DECKS, ids=lambda deck: deck.id)
def test_from_every_phase_an_end_is_reached(deck: Deck) -> None:
    for start in deck.phases:
        seen, queue = {start}, deque([start])
        while queue:
            phase = deck.phases.get(queue.popleft())
            for exit_ in phase.exits if phase else ():
                if exit_.to not in seen:
                    seen.add(exit_.to)
                    queue.append(exit_.to)
        assert seen & set(deck.ends), start


def test_the_first_exit_that_is_true_is_taken_and_unknown_opens_none() -> None:
    deck = small_deck()
    machine = PhaseMachine(deck)
    assert machine.where_to("approach", "advance", [None] * len(deck.conditions)) is None
    assert machine.where_to("approach", "advance", all_true_but(deck)) == "landing"


def test_asking_leaves_nothing_behind() -> None:
    """The same question gives the same answer a thousand times, and no model lingers in the machine."""
    deck = small_deck()
    machine = PhaseMachine(deck)
    truths = all_true_but(deck)
    assert {machine.where_to("ground", "advance", truths) for _ in range(1000)} == {"parked"}
    assert machine._machine.models == []


def test_asking_what_no_phase_knows_is_quiet(caplog: pytest.LogCaptureFixture) -> None:
    """The library logs a trigger that a state does not know; on a screen that would be a line in the way."""
    deck = small_deck()
    assert PhaseMachine(deck).where_to("ground", "go_around", all_true_but(deck, deck.committed)) is None
    assert caplog.records == []
