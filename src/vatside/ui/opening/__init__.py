"""The list of days."""
