"""Where the files that come with Vatside are: inside an installed package, or in a checkout."""

from __future__ import annotations

from pathlib import Path

SAMPLE_ID = "sample-"
"""What the id of a session begins with that is a copy of a sample: nothing of it was really used."""


def samples_folder() -> Path:
    """Give the folder of sample sessions; FileNotFoundError with words if it is missing."""
    return shipped("sample_sessions")


def guided_day() -> Path:
    """Give the sample that a newcomer is shown: a day with its end, from the plan to the dry cloth."""
    return samples_folder() / "finished-day.json"


def themes_folder() -> Path:
    """Give the folder of themes; FileNotFoundError with words if it is missing."""
    return shipped("themes")


def shipped(name: str) -> Path:
    """Find a folder that comes with Vatside."""
    installed = Path(__file__).resolve().parents[1] / name
    if installed.is_dir():
        return installed
    checkout = Path(__file__).resolve().parents[3]
    if (checkout / "pyproject.toml").is_file() and (checkout / name).is_dir():
        return checkout / name
    raise FileNotFoundError(f"the folder {name} that comes with Vatside is missing: install it again")


SAMPLE = "sample:"
