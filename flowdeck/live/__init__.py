"""The only place with a clock, files and keys to the outside world."""
