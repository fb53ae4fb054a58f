"""The session: events, what follows from them, waits, the clock, and the file that keeps it all."""
