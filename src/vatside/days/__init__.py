"""Across days: repeat, compare, keep, replay."""
