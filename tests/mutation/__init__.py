"""Does a test notice when a rule is changed? See `python -m tests.mutation --help`."""
