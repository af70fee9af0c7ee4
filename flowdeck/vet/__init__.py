"""The law of a sound deck: rules and proofs over a whole deck, beyond what its loader asks."""
