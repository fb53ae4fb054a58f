"""Settings that every test shares."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

settings.register_profile("usual", max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("usual")

os.environ["TEXTUAL_ANIMATIONS"] = "none"
os.environ.pop("NO_COLOR", None)
