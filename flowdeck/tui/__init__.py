"""The screen: Textual widgets over the views. Wiring and drawing only."""
