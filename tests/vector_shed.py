"""Stories of the shed and the tin: what is left after what was bought, used and sown; through `room` and `stand`."""

from __future__ import annotations

from tests.kernel.small import Told, holding
from tests.vector_tellings import Case, bell, raised
from tests.vector_upkeep import chosen


def counted(told: Told, *items: tuple[str, str, float], on: str = "2031-01-01") -> Told:
    """The same with so much of each item counted on a day."""
    for what, unit, held in items:
        told.add("supply", f"supply.{what}", what=what, unit=unit, held=held, on=on)
    return told


def stock() -> list[Case]:
    """Told deeds use things once each, and so do believed ones, and upkeep."""
    plenty = (("cells", "", 50), ("labels", "", 5), ("strings", "", 20))
    parts = raised(bell(counted(holding(), *plenty)), "emerge")
    parts.did("2031-03-05", "prick_out", batch="b.bell", job="b.bell.prick_out", part=1, count=8, place="prop")
    parts.did("2031-03-06", "prick_out", batch="b.bell", job="b.bell.prick_out", part=2, count=6, place="prop")
    twice = raised(bell(counted(holding(), *plenty)), "emerge")
    for on in ("2031-03-05", "2031-03-06"):
        twice.did(on, "prick_out", batch="b.bell", job="b.bell.prick_out", part=1, count=14, place="prop")
    later = counted(
        raised(bell(counted(holding(), ("cells", "", 3), on="2031-03-05")), "prick_out"), ("labels", "", 4), on="2031-02-14"
    )
    later.add("bought", "bought1", what="cells", unit="", amount=20, on="2031-03-05")
    bought = holding()
    bought.add("bought", "bought1", what="cells", unit="", amount=10, on="2031-03-01")
    bought.add("bought", "bought2", what="cells", unit="", amount=0.5, on="2031-03-04")
    bought.add("bought", "bought3", what="cells", unit="", amount=99, on="2031-03-20")
    raised(bell(bought), "prick_out", count=4)
    limed = counted(chosen("lime", ph_tenths=58), ("ground limestone", "g", 10000), ("soap", "g", 20))
    limed.did("2031-01-20", "dress", place="field.bed1", job="upkeep.lime.field.bed1", part=1)
    limed.add("upkeep", "upkeep.wash.glass", work="wash", place="glass", since="2031-01-01")
    limed.did("2031-10-20", "clean", place="glass")
    limed.did("2031-10-20", "clean", place="glass", job="upkeep.wash.glass", part=1)
    believed = raised(bell(counted(holding(), *plenty)), "emerge")
    return [
        ("in two parts", "fourteen cells of fifty over two days, and one label", "2031-03-10", parts),
        ("told by two phones", "the same fourteen cells, told a day apart", "2031-03-10", twice),
        ("believed", "what is taken to be done has used its cells and strings too", "2031-08-10", believed),
        (
            "on the day of the count",
            "what was told after the count came and went after it, what was told before it did not",
            "2031-03-10",
            later,
        ),
        ("never counted", "what was bought, from its first day on and not from tomorrow", "2031-03-10", bought),
        (
            "by upkeep",
            "lime by the test and the size of the bed; soap once for what was told twice of one day",
            "2031-10-25",
            limed,
        ),
    ]


def tin() -> list[Case]:
    """Seeds as they were counted, less what was sown since."""
    before = raised(bell(holding()), "sow")
    before.change(before.records[6], seeds=30, seeds_on="2031-02-10")
    undated = raised(bell(holding()), "sow")
    undated.change(undated.records[6], seeds=30)
    after = raised(bell(holding()), "sow")
    after.change(after.records[6], seeds=30, seeds_on="2031-02-14")  # stamped later than the sowing of that day
    empty = raised(bell(holding()), "sow")
    empty.change(empty.records[6], seeds=15, seeds_on="2031-02-10")
    return [
        ("counted before", "twenty of thirty were sown since", "2031-02-20", before),
        ("counted after", "counted on the day of the sowing, after it", "2031-02-20", after),
        ("counted some time", "nobody said when: as it was told", "2031-02-20", undated),
        ("more sown than counted", "the tin is empty, not less than that", "2031-02-20", empty),
    ]
