"""Days on disk: codec, journal, snapshot, locks, folder."""
