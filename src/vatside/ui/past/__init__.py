"""Replay, repeat and compare."""
