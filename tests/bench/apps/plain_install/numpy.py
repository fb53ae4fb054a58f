"""Stands in for numpy, which no person's install has: the checks' libraries bring it, and pint takes it."""

from __future__ import annotations

raise ImportError("numpy is no part of an install")
