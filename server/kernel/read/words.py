"""The few words the kernel itself puts together; all others come from the rulebook and the records."""

from __future__ import annotations

from typing import Any

PAST = {
    "sow": "sown",
    "emerge": "up",
    "prick_out": "pricked out",
    "pot_up": "potted up",
    "harden_off": "hardened off",
    "plant_out": "planted",
    "string": "strung",
    "train": "trained",
    "feed": "fed",
    "water": "watered",
    "treat": "treated",
    "look": "looked over",
    "pick": "picked",
    "clear": "cleared",
    "move": "moved",
    "install": "put up",
    "remove": "taken down",
    "connect": "connected",
    "weed": "weeded",
    "mulch": "mulched",
    "earth_up": "earthed up",
    "prune": "pruned",
    "cover": "covered",
    "uncover": "uncovered",
    "vent": "vented",
    "decide": "decided",
    "divide": "divided",
    "clean": "cleaned",
    "dress": "dressed",
    "drain": "drained",
    "test": "tested",
    "turn": "turned",
    "dig_in": "dug in",
    "order": "ordered",
    "store": "stored",
    "use": "used",
}


def past(verb: str) -> str:
    """A verb as done."""
    return PAST.get(verb, "done")


def days_words(days: int) -> str:
    """`1 day`, `9 days`."""
    return "1 day" if days == 1 else f"{days} days"


def plants_words(know: dict[str, Any], count: int | None) -> str:
    """`14 tomatoes`, `1 tomato`, or `tomatoes` where nobody counts."""
    many: str = know.get("many") or "plants"
    one: str = know.get("one") or "plant"
    if count is None:
        return many
    return f"{count} {one if count == 1 else many}"


def fill(say: str, know: dict[str, Any], count: int | None, place: str | None, seeds: int | None) -> str:
    """A step's sentence with its places filled; what is not known falls out without leaving a gap."""
    text = (
        say.replace("{plants}", plants_words(know, count))
        .replace("{seeds}", "" if seeds is None else str(seeds))
        .replace("{many}", know.get("many") or "plants")
        .replace("{one}", know.get("one") or "plant")
        .replace("{place}", place or "their place")
    )
    return " ".join(part for part in text.split(" ") if part)


def litres(amount: float) -> str:
    """`10`, `0.3`: litres to a tenth at most, without a trailing nought."""
    tenths = int(amount * 10 + 0.5)
    return str(tenths // 10) if tenths % 10 == 0 else f"{tenths // 10}.{tenths % 10}"


def lower_first(text: str) -> str:
    """The text with a small letter at its head, for use inside a sentence."""
    return text[:1].lower() + text[1:]
