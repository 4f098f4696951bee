"""Bought: the path of plants that are bought, or rooted from cuttings: it begins where they go into their ground."""

from __future__ import annotations

from typing import Any

from server.kernel.read.days import in_season, iso

PLANTS, CUTTINGS = "plants", "cuttings"
COMES_UP_DAYS = 14
"""From seed to seedlings, where days between steps are added up."""
_ANY_YEAR = 2030
"""Days of a rulebook are moved within this year and the next."""
ENDS = ("from", "aim", "by")


def is_bought(fields: dict[str, Any]) -> bool:
    """Whether a batch begins with plants, and is never told to sow."""
    return fields.get("begins") in (PLANTS, CUTTINGS)


def bought_steps(steps: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """A raised crop's steps without its raising; any other path as it is. Planting without a window of its own has that of the
    first step, moved by the days between them."""
    moving = [index for index, step in enumerate(steps) if step.get("stage")]
    if not moving or steps[0]["verb"] != "sow" or steps[moving[-1]]["verb"] != "plant_out":
        return steps
    planting = steps[moving[-1]]
    kept = [step for step in steps[: moving[-1]] if step["verb"] == "decide"] + steps[moving[-1] + 1 :]
    ids = {planting["id"], *(step["id"] for step in kept)}
    window = planting.get("window") or _moved(steps, moving[-1])
    first = planting | {"after": [], "window": window}
    return [first, *(step | {"after": [link for link in step.get("after") or [] if link["step"] in ids]} for step in kept)]


def _moved(steps: list[dict[str, Any]], planting: int) -> dict[str, Any] | None:
    """The first step's window under every cover, moved on by the days to planting."""
    window = steps[0].get("window")
    if window is None:
        return None
    days = dict.fromkeys(ENDS, 0)
    for step in steps[1 : planting + 1]:
        if not step.get("stage"):
            continue
        link: dict[str, Any] = next(iter(step.get("after") or []), {})
        least = COMES_UP_DAYS if link.get("emergence") else link.get("min") or 0
        best = COMES_UP_DAYS if link.get("emergence") else link.get("aim") or least
        for end, more in zip(ENDS, (least, best, best), strict=True):
            days[end] += 0 if link.get("heat") is not None else more
    return {
        cover: entry | {end: _later(entry[end], days[end]) for end in ENDS if entry.get(end)} | {"last": None}
        for cover, entry in window.items()
    }


def _later(text: str, days: int) -> str:
    """A rulebook date so many days later, at most in the next year."""
    day = iso(in_season(text, _ANY_YEAR) + days)
    return f"{min(9, int(day[:4]) - _ANY_YEAR)}-{day[5:]}"
