"""The logbook on disk: an index of journals that can be made anew from them at any time."""
