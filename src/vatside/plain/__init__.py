"""Vatside without a terminal: the same figures, log and checks as plain text or JSON."""
