"""Arithmetic of an arrival, usable alone. Units stand in the names; beyond its range a rule raises."""
