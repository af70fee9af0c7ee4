"""Events to journal lines and back: bytes in, values out. No files here."""
