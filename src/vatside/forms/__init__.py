"""Rows of the forms: what may be typed, read and shown."""
