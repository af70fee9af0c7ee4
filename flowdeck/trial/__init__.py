"""Flights flown without a screen and faster than time: a deck, a scenario and a crew, start to end."""
