"""How many cases are invented: few with every run, many with `--hypothesis-profile=many`, as each night."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from hypothesis import HealthCheck, settings

One = TypeVar("One")

QUIET = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example, HealthCheck.function_scoped_fixture]
FEW, MANY = 12, 600


def register_profiles() -> None:
    """Make both known, and few the usual."""
    settings.register_profile("few", max_examples=FEW, deadline=None, suppress_health_check=QUIET)
    settings.register_profile("many", max_examples=MANY, deadline=None, suppress_health_check=QUIET)
    settings.load_profile("few")


def sampled(whole: Iterable[One], one_in: int) -> list[One]:
    """One in so many of what is swept, from the first on; all of it where many cases are asked for, as each night."""
    return list(whole)[:: one_in if settings().max_examples < MANY else 1]


def cases_times(factor: int) -> int:
    """So many times the cases of this run's profile, for what is cheap."""
    return factor * settings().max_examples
