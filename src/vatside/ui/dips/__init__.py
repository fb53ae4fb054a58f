"""The board of the dips, and the ladder of blues."""
