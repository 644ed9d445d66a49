"""For every test: property tests try the same examples each time, and are not held to a time each."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

settings.register_profile(
    "repeatable", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=False
)
settings.load_profile("repeatable")
