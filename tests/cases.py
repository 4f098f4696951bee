"""How many cases are invented: few with every run, many with `--hypothesis-profile=many`, as each night."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

QUIET = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example, HealthCheck.function_scoped_fixture]
FEW, MANY = 16, 600


def register_profiles() -> None:
    """Make both known, and few the usual."""
    settings.register_profile("few", max_examples=FEW, deadline=None, suppress_health_check=QUIET)
    settings.register_profile("many", max_examples=MANY, deadline=None, suppress_health_check=QUIET)
    settings.load_profile("few")


def cases_times(factor: int) -> int:
    """So many times the cases of this run's profile, for what is cheap."""
    return factor * settings().max_examples
