"""Withy End read once a day, and small ways of asking about it."""

from __future__ import annotations

import functools
from typing import Any

import seed_scenario
from server.kernel.settle import settle
from server.kernel.stand import stand
from tests.builders import withy_end_rulebook

Record = dict[str, Any]
YEAR = 2031


@functools.lru_cache(maxsize=64)
def household(on: str) -> list[Record]:
    """The household's records as of a day."""
    return seed_scenario.load(on)


def of_kind(records: list[Record], kind: str) -> dict[str, dict[str, Any]]:
    """Fields by id."""
    return {record["id"]: record["fields"] for record in records if record["kind"] == kind}


def whole_year() -> list[Record]:
    """Everything there is, on the last day of the season."""
    return household(f"{YEAR}-12-31")


def deeds_by_batch() -> dict[str, list[dict[str, Any]]]:
    """The deeds of every batch in the order in which they were done; what was done with its harvest is not done to it."""
    deeds: dict[str, list[dict[str, Any]]] = {id_: [] for id_ in of_kind(whole_year(), "batch")}
    for fields in sorted(of_kind(whole_year(), "diary").values(), key=lambda fields: (fields["on"], fields["at"])):
        if "batch" in fields and fields["did"] not in ("store", "use"):
            deeds[fields["batch"]].append(fields)
    return deeds


@functools.lru_cache(maxsize=64)
def jobs(on: str) -> list[dict[str, Any]]:
    """The household's list for a day."""
    return settle(withy_end_rulebook(), household(on), on)


def chosen(job: dict[str, Any]) -> bool:
    """Whether it is of the other work that presses nobody."""
    return job.get("low") is True and job["batch"] is None


def ready(on: str) -> list[dict[str, Any]]:
    """What can be done on a day, without the other work that presses nobody."""
    return [job for job in jobs(on) if job["state"] == "ready" and not chosen(job)]


@functools.lru_cache(maxsize=64)
def standing(on: str) -> dict[str, dict[str, Any]]:
    """What stands on a day, by batch."""
    return {batch["id"]: batch for batch in stand(withy_end_rulebook(), household(on), on)["batches"]}
