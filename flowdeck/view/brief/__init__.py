"""A brief as text, Markdown, JSON and a page."""
