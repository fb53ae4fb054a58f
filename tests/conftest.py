"""Settings that every test shares."""

from __future__ import annotations

import gc
import os

from hypothesis import HealthCheck, settings

settings.register_profile("usual", max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("usual")

# Every app that a test closes leaves cycles; to look for some at each seven hundred objects takes a fifth of the time.
gc.set_threshold(100_000, 20, 10)

os.environ["TEXTUAL_ANIMATIONS"] = "none"
os.environ.pop("NO_COLOR", None)
