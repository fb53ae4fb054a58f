"""Rows of text, without a screen."""
