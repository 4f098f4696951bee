"""How many seeds to sow so that the plants wanted come."""

from __future__ import annotations

import math
from collections.abc import Iterable

from server.season.constants import MOST_PLANTS_IN_TABLE, SURE
from server.season.crop_calendar import Table
from server.season.emergence import STEP_PCT

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
    """Seeds for 1, 2, 3 ... plants.

    The chance is carried from one number to the next: one seed more adds the case that it is the plant still wanted, one plant
    more takes away the case of just so many.
    """
    if germination >= 1:
        return list(range(1, most + 1))
    table: list[int] = []
    seeds, chance = 1, germination
    for plants in range(1, most + 1):
        while chance < SURE:
            chance += germination * _chance_of(plants - 1, seeds, germination)
            seeds += 1
        table.append(seeds)
        chance -= _chance_of(plants, seeds, germination)
    return table


def seed_tables(usual: Iterable[int]) -> dict[str, list[int]]:
    """The tables of these percentages, and of each step between, to which warmth or cold may bring one down."""
    return {str(pct): seed_table(pct / 100) for pct in sorted({*usual, *range(STEP_PCT, NO_SEED_PCT, STEP_PCT)})}


def _chance_of(plants: int, seeds: int, germination: float) -> float:
    """P(Binomial(seeds, germination) = plants)."""
    ways = math.lgamma(seeds + 1) - math.lgamma(plants + 1) - math.lgamma(seeds - plants + 1)
    return math.exp(ways + plants * math.log(germination) + (seeds - plants) * math.log1p(-germination))
