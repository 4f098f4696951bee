"""Invented rulebooks, histories and days for comparing the two halves of the kernel."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from server.kernel.read.days import iso, parse
from server.kernel.read.merge import merge_record
from tests.kernel import small

YEAR = 2031
PLACES = ["house1", "bed1", "bed2", "prop", "field", "bed3", "nowhere"]
FIXTURES = ["trestle", "dripline", "shelf"]
VARIETIES = ["v1", "v2", "v3", "v9"]
BATCHES = ["b1", "b2", "b3", "b4"]
VERBS = [
    "sow", "emerge", "prick_out", "pot_up", "harden_off", "plant_out", "string", "train", "feed", "water", "treat",
    "look", "pick", "clear", "move", "lose", "install", "remove", "connect", "measure", "note", "graft", "decide", "emerge",
    "weed", "clean", "dress", "drain", "turn", "order", "store", "use", "pick", "divide",
]  # fmt: skip
STAGES = ["sown", "up", "pricked out", "potted up", "hardening", "planted"]

days = st.integers(parse(f"{YEAR - 1}-07-01"), parse(f"{YEAR + 1}-06-30"))
dates = days.map(iso)
small_numbers = st.integers(0, 30)


@st.composite
def rulebook_dates(draw: st.DrawFn) -> str:
    """`Y-MM-DD` within two years."""
    return f"{draw(st.integers(0, 1))}-{draw(st.integers(1, 12)):02d}-{draw(st.integers(1, 29)):02d}"


def maybe(strategy: st.SearchStrategy[Any], share: int = 2) -> st.SearchStrategy[Any]:
    """The value, or null now and then."""
    return st.one_of([strategy] * share + [st.none()])


@st.composite
def windows(draw: st.DrawFn) -> dict[str, Any]:
    """A window as the rulebook holds it, for all covers or one."""
    entry = {key: draw(maybe(rulebook_dates(), 4)) for key in ("from", "aim", "by", "last")}
    return {
        draw(st.sampled_from(["*", "glass", "open"])): {
            **entry,
            "why": "the calendar",
            "short": draw(st.sampled_from([None, None, True])),
        }
    }


def missed_or_not() -> st.SearchStrategy[list[Any] | None]:
    """What becomes of a step nobody told of; nothing said of it now and then."""
    becomes = st.sampled_from(["believed", "believed", "asked", "lapses", "stays"])
    return st.one_of(st.none(), st.tuples(becomes, st.integers(0, 30)).map(list))


@st.composite
def seasons(draw: st.DrawFn) -> dict[str, str]:
    """A part of every year, now and then over the new year."""
    return {end: draw(rulebook_dates())[2:] for end in ("from", "to")}


@st.composite
def invented_steps(draw: st.DrawFn) -> list[dict[str, Any]]:
    """A path of any verbs in any order, with links backwards."""
    steps: list[dict[str, Any]] = []
    for index in range(draw(st.integers(1, 7))):
        verb = draw(
            st.sampled_from(["sow", "emerge", "prick_out", "pot_up", "plant_out", "train", "feed", "look", "pick", "clear"])
        )
        moving = verb in ("sow", "emerge", "prick_out", "pot_up", "plant_out")
        step = small.step(
            f"s{index}", verb, draw(st.sampled_from(STAGES)) if moving else None,
            draw(st.sampled_from(["raise", "final", "here"])), "Do {seeds} {plants} in {place} {one} {many}", 2,
            pot_l=draw(maybe(st.sampled_from([0.3, 1, 5.5]))) if verb == "pot_up" else None,
            covers=draw(st.sampled_from([None, None, None, ["glass"], ["open"]])),
            every=draw(st.sampled_from([None, None, 1, 7])) if not moving else None,
            until=draw(maybe(rulebook_dates())),
            span=draw(maybe(st.integers(1, 90))),
            season=draw(st.one_of(st.none(), seasons())),
            window=draw(maybe(windows())),
            gate=draw(st.sampled_from([None, None, {"night_c": 10, "at": {"*": "0-05-20"}, "least_c": 8,
                 "sure": {"open": "0-06-03"}, "text": "nights hold"}])),
            missed=draw(missed_or_not()),
            keeps=draw(st.sampled_from([None, None, 3, 30])),
            ways_out=draw(st.sampled_from([None, "fleece"])),
            needs=[{"what": "pots", "each": draw(st.integers(1, 25)), "unit": "", "per": draw(st.sampled_from([None, 1, 4])),
                    "stems": draw(st.sampled_from([None, 2])),
                    **draw(st.sampled_from([{}, {"thousandths": 60}, {"thousandths": 1150}]))}],
            whole=draw(st.booleans()),
            hint=None,
            cautions=["spray"] if draw(st.booleans()) else [],
        )  # fmt: skip
        step["after"] = []
        for _ in range(draw(st.integers(0, 2)) if index else 0):
            on = f"s{draw(st.integers(0, index - 1))}"
            low, aim, most = sorted(draw(st.lists(st.integers(0, 60), min_size=3, max_size=3)))
            link = small.gap(on, low, draw(st.sampled_from([aim, None])), draw(st.sampled_from([most, None])), "since {days}")
            if draw(st.integers(0, 3)) == 0:
                link |= {"heat": draw(st.sampled_from(["10|30", "4|"])), "min": low * 90}
                link |= {key: None if link[key] is None else link[key] * 90 for key in ("aim", "max")}
            if draw(st.integers(0, 5)) == 0:
                link = {"step": on, "emergence": True, "min": None, "aim": None, "max": None, "why": ""}
            step["after"].append(link)
        steps.append(step)
    return steps


@st.composite
def rulebooks(draw: st.DrawFn) -> dict[str, Any]:
    """The small rulebook, with one more crop of an invented path."""
    book = small.rulebook()
    book["crops"]["oddity"] = {
        **small.root_crop(),
        "one": "oddity",
        "many": "oddities",
        "frost_kills_c": draw(st.sampled_from([None, 0])),
        "frost_does": draw(st.sampled_from([None, "kills", "cuts back", "spoils flowers"])),
        "frost_season": draw(st.one_of(st.none(), st.none(), seasons())),
        "reserve_pct": draw(st.sampled_from([None, 0, 20, 40])),
        "emerge_days": draw(st.sampled_from([{}, {"10": 20, "20": 7}])),
        "steps": draw(invented_steps()),
    }
    if draw(st.booleans()):
        book["varieties"]["v3"] = {**small.raised_crop(), "many": "specials"}
    book["heat"]["open|4|"] = [draw(st.integers(0, 80))] * 366
    book["standing"]["water_every"]["open"] = [0, 0, 0, 3, 3, 2, 2, 2, 3, 0, 0, 0]
    return book


@st.composite
def ground(draw: st.DrawFn) -> list[tuple[str, str, dict[str, Any]]]:
    """Places (some nested in a circle), fixtures and varieties."""
    made: list[tuple[str, str, dict[str, Any]]] = []
    for place in PLACES[:-1]:
        fields = {
            "name": f"the {place}",
            "sort": draw(st.sampled_from(["house", "bed", "bench", "propagator", "shelf", "store"])),
            "cover": draw(st.sampled_from(["glass", "open", None])),
            "within": draw(st.sampled_from([None, "house1", "field", "bed1", "nowhere"])),
            "walk": draw(maybe(st.integers(0, 5))),
            "heated_to_c": draw(st.sampled_from([None, None, 18, 25.5])),
            "watering": draw(st.sampled_from([None, "hand", "drip", "none"])),
            "length_cm": draw(st.sampled_from([None, 300, 457.2])),
            "width_cm": draw(st.sampled_from([120, 75.5, None])),
        }
        made.append(("place", place, fields))
    for fixture in FIXTURES:
        fields = {
            "name": f"the {fixture}",
            "sort": draw(st.sampled_from(["trestle", "drip_line", "shelf"])),
            "place": draw(st.sampled_from(PLACES)),
            "in_way_of": draw(st.lists(st.sampled_from(["plant_out", "string", "sow", "train"]), max_size=2, unique=True)),
            "up": draw(st.sampled_from([True, False, None])),
        }
        made.append(("fixture", fixture, fields))
    made.extend(
        (
            "variety",
            variety,
            {
                "name": f"Kind {variety}",
                "crop": draw(st.sampled_from(["bellfruit", "longroot", "oddity", "none"])),
                "seed_year": draw(st.sampled_from([None, YEAR, YEAR - 3, YEAR - 12])),
                "seeds": draw(st.sampled_from([None, None, 0, 9, 200])),
                "seeds_on": draw(maybe(dates)),
            },
        )
        for variety in VARIETIES[:3]
    )
    return made


@st.composite
def batches(draw: st.DrawFn) -> list[tuple[str, str, dict[str, Any]]]:
    """Batches that follow and stand beside one another in any way, circles too."""
    made = []
    for batch in BATCHES:
        fields = {
            "variety": draw(st.sampled_from(VARIETIES)),
            "year": draw(st.sampled_from([YEAR, YEAR, YEAR, YEAR - 1, None])),
            "want": draw(maybe(st.integers(0, 20))),
            "for_place": draw(st.sampled_from([*PLACES, None])),
            "save_seed": draw(st.sampled_from([None, None, True, False])),
            "begins": draw(st.sampled_from([None, None, None, "plants", "cuttings", "seed"])),
            "sow_on": draw(st.sampled_from([None, None, f"{YEAR}-03-10", f"{YEAR}-08-20"])),
            "turn": draw(st.sampled_from([None, None, None, 0, 1, 2, 7])),
            "follows": draw(st.sampled_from([None, None, *BATCHES])),
            "near": draw(st.sampled_from([None, None, None, *BATCHES])),
            "pot_l": draw(st.sampled_from([None, None, None, 1, 10])),
            "spacing_cm": draw(st.sampled_from([None, None, 12.5, 40])),
            "row_cm": draw(st.sampled_from([None, None, 33.3])),
            "rows": draw(st.sampled_from([None, None, 1, 2])),
            "pattern": draw(st.sampled_from([None, None, "staggered", "rows", "square"])),
            "turned": draw(st.sampled_from([None, None, True])),
            "end_cm": draw(st.sampled_from([None, None, 0, 15])),
            "left_cm": draw(st.sampled_from([None, None, None, 0, 40.5, 9000])),
            "wide_cm": draw(st.sampled_from([None, None, None, 30, 9000])),
            "run_cm": draw(st.sampled_from([None, None, None, 120.5, 9000])),
        }
        made.append(("batch", batch, fields))
    return made


@st.composite
def vessels(draw: st.DrawFn) -> list[tuple[str, str, dict[str, Any]]]:
    """Pots and trays of the household's own, some with too little said."""
    fields = st.fixed_dictionaries(
        {
            "sort": st.sampled_from(["pot", "tray", "cells", None]),
            "litres": st.sampled_from([None, 0.3, 1.25, 6]),
            "cells": st.sampled_from([None, 15, 104]),
            "length_cm": st.sampled_from([None, 9, 53.5]),
            "width_cm": st.sampled_from([None, None, 31]),
        }
    )
    return [("vessel", f"vessel{at}", told) for at, told in enumerate(draw(st.lists(fields, max_size=3)))]


@st.composite
def shed(draw: st.DrawFn) -> list[tuple[str, str, dict[str, Any]]]:
    """What was counted and bought of things that steps and work take, with and without a day."""
    items = st.sampled_from([("cells", ""), ("compost", "L"), ("labels", ""), ("ground limestone", "g"), (None, None)])
    made: list[tuple[str, str, dict[str, Any]]] = []
    for at, (what, unit) in enumerate(draw(st.lists(items, max_size=3))):
        amount = draw(st.sampled_from([None, 0, 0.7, 30, 5000]))
        kind, measure = draw(st.sampled_from([("supply", "held"), ("bought", "amount")]))
        made.append((kind, f"{kind}{at}", {"what": what, "unit": unit, "on": draw(maybe(dates)), measure: amount}))
    return made


STEPS = [
    *(step["id"] for step in small.raised_crop()["steps"]),
    "s0",
    "s1",
    "s2",
    "spare",
    "resow.2031-03-01",
    "frost.2031-05-01",
]


@st.composite
def deeds(draw: st.DrawFn) -> dict[str, Any]:
    """A diary record of any verb; now and then the answer to a job."""
    batch = draw(maybe(st.sampled_from(BATCHES), 4))
    verb = draw(st.sampled_from(VERBS))
    fields: dict[str, Any] = {
        "on": draw(dates),
        "did": verb,
        "batch": batch,
        "at": draw(st.sampled_from([None, "08:30", "17:05"])),
        "place": draw(maybe(st.sampled_from([*PLACES, *FIXTURES]))),
        "to_place": draw(st.one_of(st.none(), st.none(), st.sampled_from([*PLACES, *FIXTURES]))),
        "count": draw(maybe(small_numbers)),
        "pot_l": draw(st.sampled_from([None, None, 0.3, 1, 10])),
        "fixture": draw(st.one_of(st.none(), st.none(), st.sampled_from(FIXTURES))),
        "by": draw(st.sampled_from([None, "p1", "p2"])),
        "answer": draw(st.sampled_from([None, "buy", "frost", "alive", "given", "two"]))
        if verb in ("decide", "lose")
        else None,
        "about": draw(st.sampled_from([None, None, f"{YEAR}-07-01"])),
        "weight_g": draw(st.sampled_from([None, 120, 800])) if verb in ("pick", "store", "use") else None,
    }
    if batch is None and draw(st.integers(0, 3)) == 0:
        work, target = draw(st.sampled_from(UPKEEP))
        job = "upkeep." + work + (f".{target}" if target else "") + draw(st.sampled_from(["", "", ".dig", ".2031-04-01"]))
        verb = draw(st.sampled_from([small.upkeep()[work]["verb"], "dig_in", verb]))
        fields |= {"did": verb, "job": job, "part": 1, "answer": draw(st.sampled_from([None, "slow rye", "quickweed"]))}
    if verb in ("look", "treat"):
        fields |= {"found": draw(st.sampled_from([None, "mite", "mite", "moth"]))}
        fields |= {"level": draw(st.sampled_from([None, "none", "few", "many", "severe"]))}
    if verb == "measure":
        fields |= {"tmin": draw(st.sampled_from([None, -1.2, 0, 3])), "tmax": 20}
    if batch is not None and draw(st.integers(0, 2)) == 0:
        fields |= {"job": f"{batch}.{draw(st.sampled_from(STEPS))}", "part": draw(st.sampled_from([1, 1, 2]))}
    elif draw(st.integers(0, 9)) == 0:
        fields |= {"job": draw(st.sampled_from(["h1", "h2", "h2.2031-04-01", "trestle.remove"])), "part": 1}
    return {name: value for name, value in fields.items() if value is not None or draw(st.booleans())}


@st.composite
def job_records(draw: st.DrawFn) -> list[tuple[str, str, dict[str, Any]]]:
    """Jobs by hand that wait on one another, and changes to worked-out ones."""
    made: list[tuple[str, str, dict[str, Any]]] = []
    for name in ("h1", "h2"):
        fields = {
            "hand": True,
            "title": draw(st.sampled_from(["Mend the door", "Order seed", None])),
            "place": draw(maybe(st.sampled_from(PLACES))),
            "batch": draw(maybe(st.sampled_from(BATCHES))),
            "from": draw(maybe(dates)),
            "by_day": draw(maybe(dates)),
            "answers": draw(st.sampled_from([None, None, ["Bed 3", "Bed 4"]])),
            "every_days": draw(st.sampled_from([None, None, 7])),
            "waits_on": draw(st.lists(st.sampled_from(["h1", "h2", "b1.plant_out", "gone"]), max_size=2)),
            "let_go": draw(st.sampled_from([None, None, True])),
        }
        made.append(("job", name, fields))
    for _ in range(draw(st.integers(0, 4))):
        name = f"{draw(st.sampled_from(BATCHES))}.{draw(st.sampled_from(STEPS))}"
        fields = {
            "put_off_until": draw(maybe(dates)),
            "let_go": draw(st.sampled_from([None, True, False])),
            "let_go_on": draw(maybe(dates)),
            "for": draw(st.sampled_from([None, "p1"])),
            "still": draw(st.sampled_from([None, None, True])),
            "still_on": draw(maybe(dates)),
        }
        made.append(("job", name, fields))
    return made


UPKEEP = [("weed", "bed1"), ("weed", "bed3"), ("wash", "house1"), ("drain", "dripline"), ("lime", "bed2"), ("heap", None),
          ("seed", None), ("manure", "bed1"), ("manure", "bed3"), ("manure", "trestle"), ("wash", "nowhere"),
          ("heap", "bed1")]  # fmt: skip


@st.composite
def upkeep(draw: st.DrawFn) -> list[tuple[str, str, dict[str, Any]]]:
    """Work that was chosen, some of it where there is none, and changes to its jobs."""
    made: list[tuple[str, str, dict[str, Any]]] = []
    for work, target in draw(st.lists(st.sampled_from(UPKEEP), max_size=6, unique=True)):
        id_ = "upkeep." + work + (f".{target}" if target else "")
        fields = {
            "work": draw(st.sampled_from([work, work, work, "gone", None])),
            "place": target,
            "since": draw(maybe(dates)),
            "every_days": draw(st.sampled_from([None, None, 5])),
            "ph_tenths": draw(st.sampled_from([None, 45, 58, 63])),
            "soil": draw(st.sampled_from([None, "clay", "peat"])),
        }
        made.append(("upkeep", id_, fields))
        if draw(st.integers(0, 3)) == 0:
            made.append(("job", id_, {"let_go": True, "let_go_on": draw(dates)}))
    return made


@st.composite
def histories(draw: st.DrawFn) -> list[dict[str, Any]]:
    """Merged records of a household that may have done anything."""
    told = [*draw(ground()), *draw(batches()), *draw(job_records()), *draw(upkeep()), *draw(vessels()), *draw(shed())]
    told += [("diary", f"d{index:02d}", draw(deeds())) for index in range(draw(st.integers(0, 25)))]
    told.append(("weather", "w1", {"wind": 3}))
    records: dict[str, dict[str, Any]] = {}
    for number, (kind, id_, fields) in enumerate(told, start=1):
        if draw(st.integers(0, 19)) == 0:
            fields = {**fields, "gone": True}
        device = draw(st.sampled_from(["aaaaaaaa", "bbbbbbbb"]))
        change = {"id": id_, "kind": kind, "stamp": f"{number:012x}-0000-{device}", "fields": fields}
        records[id_] = merge_record(records.get(id_), change)
    return list(records.values())


cases = st.fixed_dictionaries(
    {"rulebook": rulebooks(), "records": histories(), "today": dates, "minutes": st.sampled_from([0, 20, 45, 90])}
)
