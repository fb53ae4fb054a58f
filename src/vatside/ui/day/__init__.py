"""The day's own screen."""
