"""How many seeds to sow so that the plants wanted come."""

from __future__ import annotations

import math

from server.season.constants import MOST_PLANTS_IN_TABLE, SURE
from server.season.crop_calendar import Table

NO_SEED_PCT = 100


def expected_pct(table: Table) -> int:
    """Seeds in a hundred from which a plant is expected where this crop is sown. [%] 100 for sets, tubers and the like."""
    numbers = table["numbers"]
    if "germination_pct" not in numbers:
        return NO_SEED_PCT
    factor = numbers["field_factor_pct"]["value"] if table["start"] == "direct" and "field_factor_pct" in numbers else 100
    return max(1, int(numbers["germination_pct"]["value"] * factor // 100))


def chance_of_at_least(plants: int, seeds: int, germination: float) -> float:
    """P(Binomial(seeds, germination) >= plants)."""
    if plants <= 0:
        return 1.0
    if seeds < plants or germination >= 1:
        return float(seeds >= plants)
    # the fewer terms of the two tails, each by its logarithm: thousands of poor seeds would overflow as plain numbers
    few, many = math.log(germination), math.log1p(-germination)
    all_ways = math.lgamma(seeds + 1)
    too_few = sum(
        math.exp(all_ways - math.lgamma(come + 1) - math.lgamma(seeds - come + 1) + come * few + (seeds - come) * many)
        for come in range(plants)
    )
    return 1 - too_few


def seeds_to_sow(plants: int, germination: float, sure: float = SURE) -> int:
    """Smallest number of seeds that brings the plants with the stated certainty.

    germination: 0 < p <= 1. Raises ValueError outside it.
    """
    if not 0 < germination <= 1:
        raise ValueError(f"germination={germination}, expected 0 < p <= 1")
    if plants <= 0:
        return 0
    seeds = max(plants, math.floor(plants / germination))
    while seeds > plants and chance_of_at_least(plants, seeds - 1, germination) >= sure:
        seeds -= 1
    while chance_of_at_least(plants, seeds, germination) < sure:
        seeds += 1
    return seeds


def seed_table(germination: float, most: int = MOST_PLANTS_IN_TABLE) -> list[int]:
    """Seeds for 1, 2, 3 ... plants."""
    table: list[int] = []
    seeds = 1
    for plants in range(1, most + 1):
        seeds = max(seeds, plants)
        while chance_of_at_least(plants, seeds, germination) < SURE:
            seeds += 1
        table.append(seeds)
    return table
