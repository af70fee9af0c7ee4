"""Measurements in ratios: each beside its floor or peer, in one run. `make bench`; nothing is asserted."""
