"""Fibres, materials, methods, scours, cautions and sources: the trade as data, checked when loaded."""
