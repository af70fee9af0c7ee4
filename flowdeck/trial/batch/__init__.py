"""Many arrivals at random through the real engine: what of a deck never comes, is always late, or leads nowhere.

The law: run *n* of a seed is the same flight wherever and in whatever order it is flown, so the result does not depend
on how the work is shared out.
"""
