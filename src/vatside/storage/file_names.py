"""What lies beside a session file."""

from __future__ import annotations

from pathlib import Path

JOURNAL = ".journal"
"""What the name of a journal adds to its session file's."""


def journal_path(path: Path) -> Path:
    """Where the journal of a session file is."""
    return path.with_name(f"{path.name}{JOURNAL}")


def lock_path(path: Path) -> Path:
    """Where the lock of a session file is; the file stays when the lock is free."""
    return path.with_name(f"{path.name}.lock")


def backup_path(path: Path) -> Path:
    """Where the content before the latest replacement is."""
    return path.with_name(f"{path.name}.bak")


def draft_path(path: Path) -> Path:
    """Where what is being typed is, until it is logged."""
    return path.with_name(f"{path.name}.draft")
