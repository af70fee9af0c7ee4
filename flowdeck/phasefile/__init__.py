"""YAML text to located nodes, to shapes, to a `Deck` or a `Scenario`; or to all that is wrong with it."""
