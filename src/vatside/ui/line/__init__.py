"""The day line: lanes, acts, what would help."""
