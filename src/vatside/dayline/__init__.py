"""The order of the day: steps, waits, and when to begin."""
