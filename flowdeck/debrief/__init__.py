"""What a flight's events tell afterwards: counts with their opportunities, stories of lists, gates and slips.

Pure: a deck, a scenario and the events of a journal in, frozen values out; no words for a reader, no markup.
"""
