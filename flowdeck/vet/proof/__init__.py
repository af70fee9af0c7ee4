"""What can be, and what can never be, within the ranges that a deck's signals have.

The law: *impossible* is a proof, over every reading in range; *possible* comes with values that show it; what neither
intervals nor elimination settle is said to be open, never guessed. A reading is taken as heard: what silence does to a
condition is no fault of the deck.
"""

from flowdeck.vet.proof.prover import Impossible, Open, Possible, Prover

__all__ = ["Impossible", "Open", "Possible", "Prover"]
