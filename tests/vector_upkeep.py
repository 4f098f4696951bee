"""Stories of the other work that a household chose, and of its store: more of `tests.vector_cases`."""

from __future__ import annotations

from tests.kernel.small import Told, holding
from tests.vector_tellings import Case

CHOSEN = (("weed", "field.bed1"), ("wash", "glass"), ("drain", "drip"), ("lime", "field.bed1"), ("heap", None), ("seed", None),
          ("manure", "field.bed1"))  # fmt: skip


def chosen(*works: str, line: str = "field.bed1", **fields: object) -> Told:
    """A holding whose bed is 8 m by 1 m, with a drip line, and the works of these names chosen since the new year."""
    told = holding()
    told.change(told.records[5], length_cm=800, width_cm=100)
    told.add("fixture", "drip", name="the drip line", sort="drip_line", place=line, up=True)
    for work, place in CHOSEN:
        if work in works:
            target = {} if place is None else {"place": place}
            id_ = "upkeep." + work + ("" if place is None else f".{place}")
            told.add("upkeep", id_, work=work, since="2031-01-01", **target, **fields)
    return told


def roots(told: Told, **fields: object) -> Told:
    """Twenty roots planned for the bed next spring."""
    told.add("batch", "b.root", variety="v.root", year=2032, want=20, for_place="field.bed1", **fields)
    return told


def upkeep() -> list[Case]:
    """What no crop asks for: it presses nobody, but for what is to be done before frost."""
    weeded = chosen("weed")
    weeded.did("2031-05-01", "weed", place="field.bed1")
    hoed = chosen("weed")
    hoed.did("2031-05-20", "weed", place="field.bed1", job="upkeep.weed.field.bed1", part=1)
    let_go = chosen("heap")
    let_go.did("2031-03-01", "turn", job="upkeep.heap", part=1)
    let_go.add("job", "upkeep.heap.2031-03-01", let_go=True, let_go_on="2031-04-12")
    drained = chosen("drain", line="glass.bed1")
    drained.did("2031-04-02", "connect", fixture="drip", place="glass.bed1")
    drained.did("2031-04-20", "plant_out", batch="b.stalk", count=3, place="glass.bed1")
    drained.add("variety", "v.stalk", name="Old Stalk", crop="stalk")
    drained.add("batch", "b.stalk", variety="v.stalk", year=2031, want=3, for_place="glass.bed1")
    drained.did("2031-10-12", "drain", fixture="drip", place="glass.bed1", job="upkeep.drain.drip", part=1)
    sown = roots(chosen("manure"))
    sown.did("2031-09-20", "sow", place="field.bed1", answer="slow rye", job="upkeep.manure.field.bed1", part=1)
    dug = roots(chosen("manure"))
    dug.records += [record for record in sown.records if record["kind"] == "diary"]
    dug.did("2032-02-10", "dig_in", place="field.bed1", job="upkeep.manure.field.bed1.dig", part=1)
    tin = roots(chosen("seed"))
    tin.change(tin.records[7], seeds=8)
    return [
        ("chosen in winter", "weeding waits for its season, the heap is due at once", "2031-01-15", chosen("weed", "heap")),
        (
            "weeded by a jot",
            "told without a job it is done all the same, and sooner again than in winter",
            "2031-05-15",
            weeded,
        ),
        ("weeded today", "it stands as done, with its own sentence", "2031-05-20", hoed),
        ("let go", "the turn of the heap that was let go counts as done", "2031-05-20", let_go),
        (
            "washing",
            "minutes and soap by the size it is taken to have",
            "2031-12-20",
            chosen("wash"),
        ),
        ("before frost", "its season's end is its last day, and it is asked for past that", "2031-11-05", chosen("drain")),
        ("drained", "it is filled again when hard frosts are over", "2032-01-10", drained),
        ("lime", "0.7 of pH on loam: 490 g a square metre, 3,920 g for eight", "2031-11-20", chosen("lime", ph_tenths=58)),
        ("lime on clay", "1.5 on clay is 1,200 g: a kilogram now", "2031-11-20", chosen("lime", ph_tenths=50, soil="clay")),
        ("no lime", "0.2 is nothing", "2031-11-20", chosen("lime", ph_tenths=63)),
        ("not tested", "nobody knows, and that is said", "2031-11-20", chosen("lime")),
        (
            "an empty bed",
            "roots come in March: what is not their kin, and stands until then",
            "2031-09-01",
            roots(chosen("manure")),
        ),
        ("nothing planned", "the sooner first", "2031-09-01", chosen("manure")),
        ("green manure stands", "dug in three weeks before the roots", "2031-12-01", sown),
        ("dug in", "and the bed is free, but not for long enough", "2032-02-12", dug),
        ("seed to order", "the plan less the tin", "2031-12-05", tin),
    ]


def store() -> list[Case]:
    """What was lifted is cured, brought in, looked through and used."""

    def lifted(*did: tuple[str, str, dict[str, object]], **pick: object) -> Told:
        told = holding()
        told.add("place", "cellar", name="Cellar", sort="store", cover="indoors", walk=3)
        told.add("place", "loft", name="Loft", sort="store", cover="indoors", walk=4)
        told.add("batch", "b.root", variety="v.root", year=2031, want=20, for_place="field.bed1")
        told.did("2031-03-12", "sow", batch="b.root", to_place="field.bed1", count=40)
        told.did("2031-04-05", "emerge", batch="b.root", count=26)
        told.did("2031-06-02", "pick", batch="b.root", place="field.bed1", job="b.root.pick", part=1, **pick)
        for on, verb, fields in did:
            told.did(on, verb, batch="b.root", **fields)
        return told

    into = {"to_place": "cellar", "weight_g": 9000, "job": "b.root.store", "part": 1}
    return [
        ("just lifted", "it is cured for ten days before it is brought in", "2031-06-03", lifted()),
        ("cured", "into one store or the other, weighed, or it was eaten", "2031-06-13", lifted()),
        ("eaten", "nobody asks any more", "2031-06-20", lifted(("2031-06-15", "use", {}))),
        ("never brought in", "five weeks later it is taken as eaten", "2031-07-20", lifted()),
        ("picked into the store", "it is stored with the picking", "2031-06-10", lifted(to_place="loft", weight_g=4000)),
        ("in the cellar", "looked through after three weeks, used from a third of its days", "2031-07-20",
         lifted(("2031-06-14", "store", into))),
        ("some used", "seven of nine kilograms are left to use", "2031-07-30",
         lifted(("2031-06-14", "store", into), ("2031-07-20", "use", {"place": "cellar", "weight_g": 2000}))),
        ("all used", "the cellar is not looked through any more", "2031-07-30",
         lifted(("2031-06-14", "store", into), ("2031-07-20", "use", {"place": "cellar"}))),
        ("forgotten", "two months past its days it is taken as used", "2031-12-01", lifted(("2031-06-14", "store", into))),
    ]  # fmt: skip


def in_store() -> list[Case]:
    """What lies in store, and that it does not rest with its batch."""
    long_kept = [case for case in store() if case[0] == "in the cellar"]
    return [(name, says, "2031-11-05", told) for name, says, _, told in long_kept]
