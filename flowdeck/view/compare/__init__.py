"""A comparison of two decks for a reader: words, text, data and page."""
