"""Every number of a crop calendar, by a path of its own: what it is called, what it may be, and how to put another in."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from server.kernel.read.words import PAST
from server.season.calendar_schema import MOST_DAYS, MOST_EVERY_DAYS, MOST_HEAT, MOST_WEEKS, UNITS
from server.season.crop_calendar import Table, counts_down

NAMES = {
    "rotation_gap_years": "Years before its family comes back to a bed",
    "germination_pct": "Seeds in a hundred that come up",
    "field_factor_pct": "Of those, in open ground",
    "raise_c": "Raised at",
    "soil_c": "Goes into soil of at least",
    "cool_c": "Grows on where day and night together have at least",
    "hot_c": "Picked where day and night together have at most",
    "bolts_h": "Runs to seed in days longer than",
    "bulb_h": "Makes bulbs in days of at least",
    "sowing_depth_cm": "Sown this deep",
    "spacing_cm": "Plants apart",
    "row_cm": "Rows apart",
    "base_c": "Grows above",
    "upper_c": "Grows no faster above",
    "frost_kills_c": "Frost harms it at",
    "rest_kills_c": "Winter kills it at",
    "chill_h": "Hours below 7 °C its buds need in winter",
    "year_heat": "Warmth of a year that ripens it, in degree-days",
    "reserve_pct": "Brought on besides those wanted",
    "per_pot": "Plants to a pot",
    "kc_mid": "Drinks, against grass, at full leaf",
}
ANCHORS = {
    "last_frost": "the last frost",
    "first_frost": "the first frost",
    "gate": "nights are warm enough",
    "plant_out": "planting",
    "planting": "planting",
    "waking": "growth wakes",
    "spring": "spring warmth",
    "bulbing": "bulbs begin",
    "leaf_fall": "leaves fall",
}
COVERS = {
    "glass": "under glass",
    "tunnel": "in a tunnel",
    "frame": "in a frame",
    "open": "under open sky",
    "indoors": "indoors",
    "*": "elsewhere",
}
ENDS = {"from": "Earliest", "aim": "Best", "by": "Latest"}
GAPS = {"min": "Soonest", "aim": "Best", "max": "Latest"}
LONG: dict[str, Any] = {"unit": "days", "high": MOST_DAYS}
WHOLE = ("days", "years", "%")
"""Units that are counted in whole numbers."""
LITRES = re.compile(r"\d+(?:\.\d+)?[ \u00a0]L\b")


@dataclass(frozen=True)
class Number:
    """One number of a calendar. `place` are the keys that lead to the table holding it, `key` the last."""

    path: str
    group: str
    label: str
    value: float
    unit: str
    low: float
    high: float
    source: str
    place: tuple[str | int, ...]
    key: str
    usual: tuple[float, float] | None = None
    """The range that the source gives."""
    anchor: str | None = None
    """What weeks are counted from, in words; `unit` is then `weeks`."""
    before: bool = False
    """Whether weeks above 0 lie before the anchor."""

    @property
    def whole(self) -> bool:
        """Whether it takes whole numbers only."""
        return self.unit in WHOLE or self.unit.startswith("degree-days") or self.path.endswith(".night_c")

    def unfit(self, value: float) -> str | None:
        """Why a value will not do by itself, as the end of a sentence; None where it will."""
        if not self.low <= value <= self.high or (self.whole and value != int(value)):
            return f"must be a {'whole number' if self.whole else 'number'} from {self.low:g} to {self.high:g}"
        return None


def numbers_of(table: Table) -> list[Number]:
    """Every number of a sound calendar that a household may change, in the order of a season."""
    of_steps = (number for step in table["steps"] for number in _of_step(table, step))
    return [*_plain(table), *_frost(table), *_emergence(table), *of_steps, *_store(table), *_seed(table)]


def put(table: Table, number: Number, value: float) -> None:
    """Put another value in place of a number's own, in place."""
    holder: Any = table
    for key in number.place:
        holder = holder[key]
    holder[number.key] = value
    if "source" in holder:
        holder["source"] = "your own"
    holder.pop("range", None)
    if number.key == "pot_l":  # the job's own words name the pot
        holder["say"] = LITRES.sub(f"{value:g} L", holder["say"])


def _plain(table: Table) -> Iterator[Number]:
    for name, entry in table["numbers"].items():
        unit, low, high = UNITS[name]
        usual = tuple(entry["range"]) if "range" in entry else None
        yield Number(
            f"numbers.{name}", "The plant", NAMES[name], entry["value"], unit, low, high, entry["source"], ("numbers", name),
            "value", usual,
        )  # fmt: skip


def _frost(table: Table) -> Iterator[Number]:
    for end, label in (("from", "Frost harms it from"), ("to", "Frost harms it until")):
        entry = (table.get("frost_season") or {}).get(end) or {}
        if "weeks" in entry:
            yield Number(
                f"frost_season.{end}.weeks", "The plant", label, entry["weeks"], source=entry["source"],
                place=("frost_season", end), key="weeks", **_weeks(entry["of"]),
            )  # fmt: skip


def _emergence(table: Table) -> Iterator[Number]:
    for index, row in enumerate(table.get("emergence", [])):
        if "days" in row:
            yield Number(
                f"emergence.{row['temp_c']:g}", "Coming up", f"At {row['temp_c']:g} °C", row["days"], "days", 1, 400,
                row["source"], ("emergence", index), "days",
            )  # fmt: skip
        if "normal_pct" in row:
            yield Number(
                f"emergence_pct.{row['temp_c']:g}", "Coming up", f"Seedlings at {row['temp_c']:g} °C", row["normal_pct"],
                "%", 0, 100, row["source"], ("emergence", index), "normal_pct",
            )  # fmt: skip


def _store(table: Table) -> Iterator[Number]:
    """How long what is picked is cured, and keeps."""
    for key, label in (("cure_days", "Cured for"), ("keeps_days", "Keeps at best for")):
        entry = (table.get("store") or {}).get(key)
        if entry is not None:
            yield Number(
                f"store.{key}",
                "In store",
                label,
                entry["value"],
                "days",
                1,
                MOST_DAYS,
                entry["source"],
                ("store", key),
                "value",
            )


def _seed(table: Table) -> Iterator[Number]:
    """How long seed keeps, and how it is saved."""
    for key, label, unit, high in (
        ("life_years", "Seed keeps for", "years", 20),
        ("apart_m", "Saved so far from other kinds", "m", 5000),
        ("plants", "Saved from so many plants at least", "", 200),
        ("dry_days", "Seed is dry so long after the first picking", "days", MOST_DAYS),
    ):
        entry = (table.get("seed") or {}).get(key)
        if entry is not None:
            low = 0 if key == "apart_m" else 1
            yield Number(f"seed.{key}", "Seed", label, entry["value"], unit, low, high, entry["source"], ("seed", key), "value")


def _of_step(table: Table, step: Table) -> Iterator[Number]:
    index = table["steps"].index(step)
    at: tuple[str | int, ...] = ("steps", index)
    path = f"steps.{step['id']}"
    group = step_title(table, step)

    def number(name: str, label: str, holder: Table, key: str, place: tuple[str | int, ...], **more: Any) -> Number:
        given = {"unit": "", "low": 0, "high": 100, "source": holder.get("source", "")} | more
        return Number(f"{path}.{name}", group, label, holder[key], place=place, key=key, **given)

    yield from _window(table, step, group)
    links: list[tuple[str, tuple[str | int, ...], Table]] = [("after", ("after",), step["after"])] if "after" in step else []
    links += [(f"also_after.{n}", ("also_after", n), link) for n, link in enumerate(step.get("also_after", []))]
    for name, where, link in links:
        sort = "heat" if "heat" in link else "days"
        if not isinstance(link.get(sort), dict):
            continue
        unit, high = (f"degree-days above {_base(table)}", MOST_HEAT) if sort == "heat" else ("days", MOST_DAYS)
        earlier = next(other for other in table["steps"] if other["id"] == link["step"])
        for key, word in GAPS.items():
            if link[sort].get(key) is not None:
                label = f"{word}, once {PAST[earlier['verb']]}"
                made = number(f"{name}.{sort}.{key}", label, link[sort], key, (*at, *where, sort), unit=unit, high=high)
                yield _sourced(made, link["source"])
        if link[sort].get("least_days") is not None:
            place = (*at, *where, sort)
            least = number(f"{name}.{sort}.least_days", "However warm, no sooner than", link[sort], "least_days", place, **LONG)
            yield _sourced(least, link["source"])
    for key, label, low, high in (
        ("every", "Again every", 1, MOST_EVERY_DAYS),
        ("span", "Goes on for", 1, MOST_DAYS),
        ("keeps", "Stays good on the plant for", 1, 366),
    ):
        if key in step:
            yield number(key, label, step[key], "value", (*at, key), unit="days", low=low, high=high)
    for name, label in (("until", "Until"), ("season.from", "Season begins"), ("season.to", "Season ends")):
        keys = name.split(".")
        holder: Any = step
        for key in keys:
            holder = holder.get(key) or {}
        if "weeks" in holder:
            yield number(f"{name}.weeks", label, holder, "weeks", (*at, *keys), **_weeks(holder["of"]))
    if "missed" in step:
        label = "Asked for so long past its last day"
        yield number("missed.days", label, step["missed"], "days", (*at, "missed"), unit="days", high=366)
    if step.get("pot_l") is not None:
        yield number("pot_l", "Pots of", step, "pot_l", at, unit="L", low=0.01, source="this step's own pots")
    for key, label in (("fixed", "Minutes for the job itself"), ("each", "And minutes for each plant")):
        if key in step["minutes"]:
            most = 600 if key == "fixed" else 60
            yield number(f"minutes.{key}", label, step["minutes"], key, (*at, "minutes"), unit="min", high=most)
    for n, need in enumerate(step.get("needs", [])):
        if need.get("once") or "each" not in need:  # without a number of its own it is one to a plant
            continue
        label = f"{need['what'].capitalize()} for each plant"
        yield number(f"needs.{n}.each", label, need, "each", (*at, "needs", n), unit=need.get("unit", ""))


def _sourced(number: Number, source: str) -> Number:
    return Number(**{**number.__dict__, "source": source})


def _window(table: Table, step: Table, group: str) -> Iterator[Number]:
    window = (table.get("windows") or {}).get(step["id"])
    if window is not None:
        path: tuple[str | int, ...] = ("windows", step["id"])
        entries: list[tuple[str, tuple[str, ...], Table]] = [("", (), window)]
        if "covers" in window:
            entries = [(cover, ("covers", cover), entry) for cover, entry in window["covers"].items()]
        for cover, where, entry in entries:
            for end, word in ENDS.items():
                label = f"{word}, {COVERS[cover]}" if cover else word
                yield Number(
                    ".".join(map(str, (*path, *where, "weeks", end))), group, label, entry["weeks"][end],
                    source=entry["weeks"]["source"], place=(*path, *where, "weeks"), key=end, **_weeks(entry["of"]),
                )  # fmt: skip
    gate = (table.get("gates") or {}).get(step["id"])
    if gate is not None:
        for key, label, low, high in (
            ("night_c", "Nights must hold above", -10, 25),
            ("allow_c", "But colder by so much is let pass", 0, 8),
        ):
            yield Number(
                f"gates.{step['id']}.{key}", group, label, gate[key]["value"], "°C", low, high, gate[key]["source"],
                ("gates", step["id"], key), "value",
            )  # fmt: skip


def _weeks(of: str) -> dict[str, Any]:
    before = counts_down(of)
    return {"unit": "weeks", "low": -MOST_WEEKS, "high": MOST_WEEKS, "anchor": ANCHORS[of], "before": before}


def _base(table: Table) -> str:
    return f"{table['numbers']['base_c']['value']:g} °C"


def step_title(table: Table, step: Table) -> str:
    """What a step is called where no batch is spoken of: `Pot up tomatoes to 1 L`."""
    words = str(step["say"])
    for name, said in (
        ("{seeds} ", ""),
        ("{plants}", table["many"]),
        ("{many}", table["many"]),
        ("{one}", table["one"]),
        (" in {place}", ""),
        ("{place}", "their place"),
    ):
        words = words.replace(name, said)
    return words
