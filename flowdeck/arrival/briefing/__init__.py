"""The parts of a brief: each module works out some sections of its sheet."""
