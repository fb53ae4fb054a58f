"""The shelf: powders and liquids owned, one for all sessions, told by its own events."""
