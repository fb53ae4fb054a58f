"""The card of a class."""
