"""What every story behind the vectors begins with: bellfruits wanted, and bellfruits grown as far as a step."""

from __future__ import annotations

from tests.kernel.small import Told

Case = tuple[str, str, str, Told] | tuple[str, str, str, Told, int]


def bell(told: Told, want: int | None = 12, **fields: object) -> Told:
    """Twelve bellfruits for bed 1 of the Glass House."""
    told.add("batch", "b.bell", **({"variety": "v.bell", "year": 2031, "want": want, "for_place": "glass.bed1"} | fields))
    return told


def raised(told: Told, upto: str, count: int = 14) -> Told:
    """The same, done as far as a step: sown 14 February, up, pricked out, potted twice."""
    path = [
        ("2031-02-14", "sow", {"place": "prop", "count": 20}),
        ("2031-02-23", "emerge", {"count": count}),
        ("2031-03-05", "prick_out", {"count": count, "place": "prop"}),
        ("2031-03-26", "pot_up", {"count": count, "place": "glass.bed2", "pot_l": 0.3}),
        ("2031-04-16", "pot_up", {"count": count, "place": "glass.bed2", "pot_l": 1}),
        ("2031-05-22", "plant_out", {"count": min(count, 12), "place": "glass.bed1"}),
    ]
    names = ["sow", "emerge", "prick_out", "pot_up_1", "pot_up_2", "plant_out"]
    for (on, did, fields), name in zip(path, names, strict=True):
        told.did(on, did, batch="b.bell", job=f"b.bell.{name}", part=1, **fields)
        if name == upto:
            break
    return told
