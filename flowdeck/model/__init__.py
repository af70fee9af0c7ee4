"""Frozen values that every layer shares. Nothing here reads a clock, a file or a screen."""
