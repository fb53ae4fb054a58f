"""Themes and colours."""
