"""The commands: parsing and wiring."""
