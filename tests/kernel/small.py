"""A small invented rulebook and builders of records, for tests of the kernel alone. No real crop's numbers."""

from __future__ import annotations

from typing import Any

Record = dict[str, Any]
MISSED = {
    "sow": ["asked", 14], "emerge": ["believed", 7], "prick_out": ["believed", 7], "pot_up": ["believed", 7],
    "harden_off": ["believed", 5], "plant_out": ["asked", 28], "string": ["believed", 14], "train": ["believed", 10],
    "feed": ["believed", 5], "look": ["believed", 3], "decide": ["stays", 0], "install": ["lapses", 21],
    "pick": ["believed", 10],
    "clear": ["believed", 14],
}  # fmt: skip
"""What becomes of a step that nobody told of."""


def step(id_: str, verb: str, stage: str | None, where: str, say: str, lead: int, **more: Any) -> dict[str, Any]:
    """A path step with good defaults."""
    given = {"id": id_, "verb": verb, "stage": stage, "where": where, "say": say, "lead": lead, "minutes": [5, 4]}
    return {**given, "missed": MISSED.get(verb), **more}


def gap(on: str, low: int, aim: int | None, most: int | None, why: str = "") -> dict[str, Any]:
    """A link in days to an earlier step."""
    return {"step": on, "min": low, "aim": aim, "max": most, "why": why}


def raised_crop() -> dict[str, Any]:
    """A tender crop raised in heat, potted twice, planted under glass when nights allow, strung, fed and picked."""
    return {
        "one": "bellfruit",
        "many": "bellfruits",
        "family": "Solanaceae",
        "tender": True,
        "frost_kills_c": 0,
        "seeds_for": "65",
        "spacing_cm": [40, 60, 50],
        "row_cm": 75,
        "emerge_days": {"20": 13, "25": 8},
        "steps": [
            step(
                "sow", "sow", "sown", "raise", "Sow {seeds} {many}", 3,
                window={"*": {"from": "0-01-20", "aim": "0-02-10", "by": "0-03-31", "why": "the calendar"}},
            ),
            step("emerge", "emerge", "up", "here", "Look for {one} seedlings", 4,
                 after=[{"step": "sow", "emergence": True}]),
            step("prick_out", "prick_out", "pricked out", "here", "Prick out {plants}", 9,
                 after=[gap("emerge", 7, 10, 18, "first true leaves")], needs=[{"what": "cells", "each": 10, "unit": ""}]),
            step("pot_up_1", "pot_up", "potted up", "here", "Pot up {plants} to 0.3 L", 6, pot_l=0.3,
                 after=[gap("prick_out", 14, 21, 35)]),
            step("pot_up_2", "pot_up", "potted up", "here", "Pot up {plants} to 1 L", 6, pot_l=1,
                 after=[gap("pot_up_1", 14, 21, 28)]),
            step("plant_out", "plant_out", "planted", "final", "Plant {plants} in {place}", 5,
                 after=[gap("pot_up_2", 10, 21, 35, "pot-bound after that")],
                 gate={"night_c": 12, "at": {"glass": "0-05-20", "tunnel": "0-06-01", "open": "0-06-10"},
                       "text": "nights hold above 12 °C"},
                 window={"*": {"from": "0-05-01", "aim": "0-05-25", "by": "0-06-20", "why": "the calendar"}},
                 ways_out="a bigger pot now, fleece, or warmth"),
            step("stems", "decide", None, "here", "Decide on stems for {many}", 6, after=[gap("pot_up_1", 0, 14, None)],
                 before="string", answers=[{"id": "one", "say": "One stem", "stems": 1},
                                           {"id": "two", "say": "Two stems", "stems": 2}]),
            step("string", "string", None, "final", "String {plants}", 6, after=[gap("plant_out", 3, 10, 14)],
                 needs=[{"what": "strings", "each": 10, "unit": "", "stems": 1}]),
            step("train", "train", None, "final", "Side-shoot {plants}", 10, after=[gap("plant_out", 10, 14, 21)],
                 every=7, until="0-08-15"),
            step("first_set", "look", None, "final", "Look for first fruit set on {plants}", 4,
                 after=[gap("plant_out", 14, 21, 35)]),
            step("feed", "feed", None, "final", "Feed {plants}", 4, after=[gap("first_set", 0, 1, 7)], every=7),
            step("pick", "pick", None, "final", "Pick {many}", 4, after=[gap("plant_out", 60, 70, None)], every=4,
                 until="0-10-18", span=90),
            step("clear", "clear", None, "final", "Clear {many}", 5, after=[gap("pick", 0, 7, 21)]),
        ],
    }  # fmt: skip


def root_crop() -> dict[str, Any]:
    """A hardy crop sown where it stays and pulled once."""
    return {
        "one": "longroot",
        "many": "longroots",
        "family": "Apiaceae",
        "tender": False,
        "frost_kills_c": None,
        "seeds_for": "",
        "spacing_cm": [5, 10, 7.5],
        "row_cm": 30,
        "harvest": "roots",
        "seed": {"life": 3, "apart_m": 5, "plants": 4, "dry": 40, "how": "In a bag."},
        "store": {"keeps": 90, "cure": 10, "best": "0\u00a0°C, damp", "how": "In damp sand."},
        "emerge_days": {"8": 20, "15": 10},
        "steps": [
            step("sow", "sow", "sown", "final", "Sow {many} in {place}", 3,
                 window={"*": {"from": "0-02-15", "aim": "0-03-10", "by": "0-07-10", "why": "the calendar"}}),
            step("emerge", "emerge", "up", "here", "Look for {one} seedlings", 4,
                 after=[{"step": "sow", "emergence": True}]),
            step("pick", "pick", None, "here", "Pull {many}", 4, after=[gap("sow", 60, 75, 110)]),
            step("clear", "clear", None, "here", "Clear {many}", 5, after=[gap("pick", 0, 7, 21)]),
        ],
    }  # fmt: skip


def stalk_crop() -> dict[str, Any]:
    """A hardy crop that stays for years and is picked in spring only."""
    return {
        **root_crop(),
        "one": "crown of stalk",
        "many": "stalks",
        "seeds_for": "",
        "steps": [
            step("plant_out", "plant_out", "planted", "final", "Plant {plants} in {place}", 5,
                 window={"*": {"from": "0-10-01", "aim": "0-11-01", "by": "1-03-01", "why": "the calendar"}}),
            step("pick", "pick", None, "here", "Pull {many}", 4,
                 after=[gap("plant_out", 500, 510, None, "not in its first year")], every=10, span=2400,
                 season={"from": "03-31", "to": "06-30"}),
            step("clear", "clear", None, "here", "Clear {many}", 5, after=[gap("plant_out", 2600, 2900, 3300)]),
        ],
    }  # fmt: skip


def bush_crop() -> dict[str, Any]:
    """A bush that is pruned twice a year, bears a little in one year and fully from the next, and is cleared in winter."""
    return {
        **root_crop(),
        "one": "bush",
        "many": "bushes",
        "frost_kills_c": -2,
        "frost_does": "spoils flowers",
        "frost_season": {"from": "04-05", "to": "05-20"},
        "steps": [
            step("plant_out", "plant_out", "planted", "final", "Plant {plants} in {place}", 5,
                 window={"*": {"from": "0-11-02", "aim": "0-11-23", "by": "1-03-01", "why": "leaves fall", "unfit": "mild"}}),
            step("prune", "prune", None, "here", "Prune {many}", 5, after=[gap("plant_out", 60, None, None)], every=300,
                 season={"from": "11-05", "to": "03-07"},
                 needs=[{"what": "pair of shears", "each": 10, "unit": "", "once": True},
                        {"what": "ties", "each": 5, "unit": ""}]),
            step("shorten", "prune", None, "here", "Shorten {many}", 7, after=[gap("plant_out", 200, None, None)], every=300,
                 season={"from": "06-20", "to": "07-20"}),
            step("first_pick", "pick", None, "here", "Pick the first {many}", 4, after=[gap("plant_out", 400, 420, 700)],
                 every=3, span=30, season={"from": "07-01", "to": "08-10"}),
            step("pick", "pick", None, "here", "Pick {many}", 4, after=[gap("plant_out", 750, None, None)], every=3,
                 season={"from": "07-01", "to": "08-10"}),
            step("clear", "clear", None, "here", "Clear {many}", 5, after=[gap("plant_out", 3000, 3000, 5000)],
                 season={"from": "11-05", "to": "03-07"}),
        ],
    }  # fmt: skip


def cold_crop() -> dict[str, Any]:
    """A crop with a gate and its certain nights, that ripens by a heat which never comes and is cut in winter only."""
    return {
        **root_crop(),
        "one": "frostleaf",
        "many": "frostleaves",
        "steps": [
            step("plant_out", "plant_out", "planted", "final", "Plant {plants} in {place}", 5,
                 window={"*": {"from": "0-05-01", "aim": "0-05-25", "by": "0-06-20", "why": "the calendar"}},
                 gate={"night_c": 12, "at": {"open": "0-05-20"}, "least_c": 10, "sure": {"open": "0-06-08"},
                       "text": "nights hold above 12 °C"}),
            step("cut", "train", None, "here", "Cut back {many}", 8, after=[gap("plant_out", 10, 14, None)], every=30, span=900,
                 season={"from": "11-15", "to": "02-10"}),
            step("pick", "pick", None, "here", "Pick {many}", 4, until="0-10-18", every=4,
                 after=[{"step": "plant_out", "heat": "10|30", "min": 4000, "aim": 5000, "max": None, "why": ""}]),
            step("clear", "clear", None, "here", "Clear {many}", 5, after=[gap("pick", 0, 7, 21)]),
        ],
    }  # fmt: skip


def pot_crop() -> dict[str, Any]:
    """A herb raised and kept in pots of compost, half a litre to a plant, with a peg to every third."""
    return {
        "one": "potleaf",
        "many": "potleaves",
        "family": "Lamiaceae",
        "tender": False,
        "frost_kills_c": None,
        "seeds_for": "65",
        "emerge_days": {"10": 21, "20": 9},
        "steps": [
            step("sow", "sow", "sown", "raise", "Sow {seeds} {many}", 3, needs=[{"what": "seed", "each": 10, "unit": ""}],
                 window={"*": {"from": "0-03-01", "aim": "0-03-20", "by": "0-05-31", "why": "the calendar"}}),
            step("emerge", "emerge", "up", "here", "Look for {one} seedlings", 4, after=[{"step": "sow", "emergence": True}]),
            step("pot_up", "pot_up", "potted up", "here", "Pot up {plants}", 6, pot_l=0.5, after=[gap("emerge", 14, 21, 35)],
                 needs=[{"what": "compost", "each": 6, "thousandths": 560, "unit": "L"},
                        {"what": "pegs", "each": 3, "unit": ""}],
                 cautions=["spray"], hint="Water an hour before."),
            step("pick", "pick", None, "here", "Pick {many}", 4, after=[gap("pot_up", 30, 40, None)], every=10, span=60,
                 until={"open": "0-11-20"}),
        ],
        "turns": [
            {"sow": {"window": {"*": {"from": "0-08-01", "aim": "0-08-15", "by": "0-09-10", "why": "heat", "unfit": "cold"}}}},
            {"sow": {"window": {"*": {"from": "0-12-20", "aim": "1-01-05", "by": "1-01-20", "why": "heat"}}}},
        ],
    }  # fmt: skip


def seed_crop() -> dict[str, Any]:
    """A crop sown where it stays, whose seed comes in warm ground only, and few of it where that is cool."""
    return {
        **root_crop(),
        "one": "warmseed",
        "many": "warmseeds",
        "seeds_for": "65",
        "emerge_days": {"10": 24, "11": 20, "12": 17, "13": 15, "14": 13, "15": 12, "16": 11, "17": 10, "18": 9},
        "emerge_pct": {"10": 30, "11": 55, "12": 80},
        "steps": [
            step("sow", "sow", "sown", "final", "Sow {seeds} {many} in {place}", 3, missed=("shown", 14),
                 window={"*": {"from": "0-03-20", "aim": "0-04-05", "by": "0-06-30", "why": "the calendar"}}),
            step("emerge", "emerge", "up", "here", "Look for {one} seedlings", 4, missed=("shown", 14),
                 after=[{"step": "sow", "emergence": True}]),
            step("pick", "pick", None, "here", "Pull {many}", 4, after=[gap("emerge", 60, 75, 110)]),
        ],
    }  # fmt: skip


def upkeep() -> dict[str, Any]:
    """Work that a household may choose: by growth, once a year, before frost, by a test of the soil, between crops, by plan."""

    def work(say: str, verb: str, at: list[str], every: int | list[int], **more: Any) -> dict[str, Any]:
        season = {"from": more.pop("opens"), "to": more.pop("closes")} if "opens" in more else None
        return {
            "name": say, "say": say, "lead": len(say.split(" ")[0]), "verb": verb, "at": at, "covers": None,
            "every": every if isinstance(every, list) else [every] * 12, "season": season, "firm": False,
            "minutes": [10, 15], "source": "common practice", "needs": [], "cautions": [], "hint": None, **more,
        }  # fmt: skip

    return {
        "weed": work("Hoe {place}", "weed", ["bed"], [42, 42, 30, 21, 14, 10, 10, 10, 14, 21, 42, 42], opens="03-07",
                     closes="10-26"),
        "wash": work("Wash {place}", "clean", ["house"], 300, opens="10-15", closes="01-07", cautions=["spray", "gone"],
                     needs=[{"what": "brush", "once": True}, {"what": "soap", "each": 12, "unit": "g"}]),
        "drain": work("Drain {fixture}", "drain", ["drip_line"], 300, opens="10-08", closes="10-29", firm=True,
                      refill="04-14"),
        "lime": work("Lime {place}", "dress", ["bed"], 1000, opens="11-02", closes="02-22",
                     lime={"target_ph": 65, "worth_ph": 5, "most_g_m2": 1000, "sand": 60, "loam": 70, "clay": 80, "organic": 80,
                           "peat": 160}),
        "heap": work("Turn the heap", "turn", ["household"], 42),
        "seed": work("Order seed", "order", ["household"], 300, opens="11-30", closes="02-01"),
        "manure": work("Sow {manure} in {place}", "sow", ["bed"], 0, kinds=[
            {"name": "quickweed", "family": "Apiaceae", "sow": {"from": "03-25", "to": "09-10"}, "stands": [30, 90],
             "each": 10},
            {"name": "slow rye", "family": "Poaceae", "sow": {"from": "08-13", "to": "11-16"}, "stands": [120, 240],
             "each": 170},
        ], dig={"say": "Dig in {manure} in {place}", "lead": 6, "verb": "dig_in", "minutes": [10, 60], "cautions": [],
                "hint": None, "before": 21}),
    }  # fmt: skip


def rulebook() -> dict[str, Any]:
    """A rulebook of the seven invented crops and one trouble."""
    return {
        "format": 1,
        "version": "0" * 16,
        "crops": {
            "bellfruit": raised_crop(),
            "longroot": root_crop(),
            "stalk": stalk_crop(),
            "bush": bush_crop(),
            "frostleaf": cold_crop(),
            "potleaf": pot_crop(),
            "warmseed": seed_crop(),
        },
        "varieties": {},
        "seeds": {
            "65": [2, 5, 7, 8, 10, 12, 13, 15, 16, 18, 20, 21],
            "35": [7, 12, 16, 20, 24, 28, 31, 35, 38, 42, 45, 49],
            "15": [19, 30, 40, 50, 59, 68, 76, 85, 93, 102, 110, 118],
        },
        "heat": {"glass|10|30": [50] * 366, "open|10|30": [0] * 366},
        "heat_read": {"glass|10|30": {"from": "2031-05-27", "days": [90] * 14}},
        "vessels": {
            "pots": [[300, 90], [1000, 130], [5000, 230]],
            "tray": [380, 240, 3500],
            "cells": [[24, 75], [84, 15]],
            "seeds": [30, 200, 400, 1000],
            "bags": [[20, 50], 50],
        },
        "spell": 12,
        "warmth": {"glass": [15] * 366, "open": [max(2, 18 - abs(day - 196) // 12) for day in range(366)]},
        "care": {
            "mite": {
                "name": "mites",
                "hosts": ["bellfruit"],
                "steps": [
                    {"say": "Damp down", "cautions": [], "minutes": 5},
                    {"say": "Cut off the worst leaves", "cautions": [], "minutes": 15},
                    {"say": "Spray", "cautions": ["spray"], "minutes": 20},
                ],
                "recheck": [3, 4],
                "watch_days": 21,
                "clear_looks": 2,
                "clear_gap": 7,
            }
        },
        "standing": {
            "look_every": 7,
            "water_every": {"glass": [7, 7, 3, 1, 1, 1, 1, 1, 1, 3, 7, 7]},
            "connect": [0, 7, 14],
            "check_every": 7,
            "minutes": {"look": 10, "water": 10, "connect": 30},
        },
        "upkeep": upkeep(),
        "cautions": {"spray": {"title": "Spray", "say": "Read the label."}},
        "slack": {"sow_on": [7, 14], "resow": 3},
    }


class Told:
    """Records told one after the other, each with a later stamp than the last."""

    def __init__(self, device: str = "abcdefgh") -> None:
        self.device = device
        self.records: list[Record] = []

    def add(self, kind: str, id_: str, **fields: Any) -> Record:
        """A record of any kind."""
        record = {
            "id": id_,
            "kind": kind,
            "stamp": f"{len(self.records) + 1:012x}-0000-{self.device}",
            "fields": fields,
        }
        self.records.append(record)
        return record

    def did(self, on: str, did: str, **fields: Any) -> Record:
        """A diary record."""
        return self.add("diary", f"deed{len(self.records):04d}", on=on, did=did, **fields)

    def change(self, record: Record, **fields: Any) -> None:
        """A later edit of a record, merged."""
        from server.kernel.read.merge import merge_record

        stamp = f"{len(self.records) + 1000:012x}-0000-{self.device}"
        merged = merge_record(record, {"id": record["id"], "kind": record["kind"], "stamp": stamp, "fields": fields})
        self.records[self.records.index(record)] = merged


def holding() -> Told:
    """A glasshouse with two beds, a shelf and a propagator, and open ground with one bed."""
    told = Told()
    told.add("place", "glass", name="Glass House", sort="house", cover="glass", walk=1)
    told.add("place", "glass.bed1", name="bed 1", sort="bed", within="glass", walk=1)
    told.add("place", "glass.bed2", name="bed 2", sort="bed", within="glass", walk=2)
    told.add("place", "prop", name="propagator", sort="propagator", within="glass", walk=3, heated_to_c=25)
    told.add("place", "field", name="Field", sort="house", cover="open", walk=2)
    told.add("place", "field.bed1", name="long bed", sort="bed", within="field", walk=1)
    told.add("variety", "v.bell", name="Red Bell", crop="bellfruit")
    told.add("variety", "v.root", name="Early Root", crop="longroot")
    return told
