"""Notices: what is wrong with a plan."""
