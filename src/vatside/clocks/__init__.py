"""Clocks, and what a day looks at them for."""
