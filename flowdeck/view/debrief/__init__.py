"""A debrief for a reader: text, data, page."""
