"""What is different between two decks, as values: all that a reviser must look at and sign.

Pure: two decks in, a `Comparison` out; no words for a reader, no markup. The law:

- Conditions are compared by what they mean, never by their numbers and not by their blanks.
- A change that follows from another is not told: who waits for an item by its new name has not changed, and the order
  of a flow is told as the least number of things that moved.
- Every change of (old, new) has its mirror in (new, old).
"""
