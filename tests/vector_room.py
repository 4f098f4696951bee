"""Stories of room: what stands where when, and how full each place is; asked through `room`."""

from __future__ import annotations

from tests.kernel.small import Told, holding
from tests.vector_tellings import Case, bell, raised

SIZES = {"glass.bed1": (800, 120), "glass.bed2": (400, 120), "prop": (110, 55)}
"""Length and width. [cm]"""


def measured() -> Told:
    """The small holding with the sizes of its beds and its propagator."""
    told = holding()
    for record in told.records:
        if record["id"] in SIZES:
            record["fields"]["length_cm"], record["fields"]["width_cm"] = SIZES[record["id"]]
    return told


def standing_room() -> list[Case]:
    """From the propagator to the bed."""
    shared = raised(bell(measured(), rows=2), "plant_out")
    shared.add("batch", "b.root", variety="v.root", year=2031, for_place="glass.bed1", run_cm=150)
    shared.did("2031-05-23", "sow", batch="b.root", place="glass.bed1", job="b.root.sow", part=1)
    drills = measured()
    drills.add("batch", "b.root", variety="v.root", year=2031, for_place="glass.bed2")
    drills.did("2031-03-01", "sow", batch="b.root", place="glass.bed2", job="b.root.sow", part=1)
    foot = raised(bell(measured()), "plant_out")
    foot.add("batch", "b.root", variety="v.root", year=2031, want=20, near="b.bell")
    strips = raised(bell(measured(), rows=1, wide_cm=60), "plant_out")
    strips.add("batch", "b.root", variety="v.root", year=2031, for_place="glass.bed1", left_cm=60)
    strips.did("2031-05-23", "sow", batch="b.root", place="glass.bed1", job="b.root.sow", part=1)
    shared_strip = measured()
    for name, on in (("b.root", "2031-05-10"), ("b.late", "2031-05-20")):
        shared_strip.add("batch", name, variety="v.root", year=2031, for_place="glass.bed1", wide_cm=60)
        shared_strip.did(on, "sow", batch=name, place="glass.bed1", job=f"{name}.sow", part=1)
    own = raised(bell(measured()), "pot_up_1")
    own.add("vessel", "square", sort="pot", litres=0.3, length_cm=8, width_cm=8)
    return [
        ("tray, pot, bed", "told so far, and expected from the list on", "2031-04-10", raised(bell(measured()), "pot_up_1")),
        ("two in one bed", "twelve in two rows take 3 m, and the roots the 1.5 m that was said", "2031-05-24", shared),
        ("nobody counts", "drills of which nobody said how much they take fill their bed", "2031-03-10", drills),
        ("at the foot", "what stands beside another in its bed takes no room", "2031-05-24", foot),
        ("in strips", "twelve in one row in half the width, and drills in the other half", "2031-05-24", strips),
        ("drills in one strip", "they share half the bed, and fill that half once", "2031-05-24", shared_strip),
        ("own pots", "fourteen pots of one's own, 8 cm square", "2031-04-10", own),
    ]
