"""Printed cards of a deck: what stands where on which page, in millimetres."""
