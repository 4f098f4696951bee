"""Stories of weeks of the year, of nights that hold, and of what comes too late or never: more of `tests.vector_cases`."""

from __future__ import annotations

from tests.kernel.small import Told, holding
from tests.vector_tellings import Case, bell, raised


def warmth() -> list[Case]:
    """What is counted in heat: the days a thermometer read, a typical year for the others, and a spell about that."""

    def leaves(day: str) -> Told:
        told = holding()
        told.add("variety", "v.frost", name="Old Frost", crop="frostleaf")
        told.add("batch", "b.frost", variety="v.frost", year=int(day[:4]), want=3, for_place="glass.bed1")
        told.did(day, "plant_out", batch="b.frost", count=3, place="glass.bed1", job="b.frost.plant_out", part=1)
        return told

    return [
        ("not read yet", "5 degree-days a day: 400 by the eightieth day", "2032-04-20", leaves("2032-04-10")),
        ("read in part", "a fortnight at 9 in place of 5 brings it eleven days sooner", "2031-06-12", leaves("2031-05-26")),
    ]


def coming_up() -> list[Case]:
    """Seed in the open: it comes up as the ground warms, and fewer come where that is cool."""

    def seeds(*sown: str, **fields: object) -> Told:
        told = holding()
        told.add("variety", "v.seed", name="Old Seed", crop="warmseed")
        told.add("batch", "b.seed", variety="v.seed", year=2031, want=4, for_place="field.bed1", **fields)
        for day in sown:
            told.did(day, "sow", batch="b.seed", count=21, to_place="field.bed1", job="b.seed.sow", part=1)
        return told

    return [
        ("a cool day of its own", "at 11 °C 35 in a hundred come: 20 seeds for four plants", "2031-04-01",
         seeds(sow_on="2031-04-12")),
        ("the calendar's day is past", "sown today in June all that come at best do: eight seeds", "2031-06-10", seeds()),
        ("sown in cold ground", "sown at 6 °C in March it waits until April's 10 °C", "2031-03-20", seeds("2031-03-02")),
        ("sown in warming ground", "sown at 11 °C, it is up sooner than in 20 days, for it grows warmer", "2031-04-20",
         seeds("2031-04-12")),
        ("nobody told", "of 21 seeds sown at 11 °C only seven are believed to be up", "2031-08-01", seeds("2031-04-12")),
    ]  # fmt: skip


def turns() -> list[Case]:
    """Crops that can be begun at several times of the year."""

    def herbs(**fields: object) -> Told:
        told = holding()
        told.add("variety", "v.pot", name="Old Pot", crop="potleaf")
        told.add("batch", "b.pot", variety="v.pot", year=2031, want=7, for_place="glass.bed2", **fields)
        return told

    return [
        ("the first turn", "where nothing is said the first of a year is taken", "2031-02-10", herbs(turn=0)),
        ("the second turn", "sown in August, and that winter kills it is said", "2031-08-05", herbs(turn=1)),
        ("a turn over the new year", "sown from December into January of the year after its own", "2031-12-28", herbs(turn=2)),
        ("a turn that is gone", "a turn this site has not is the first", "2031-02-10", herbs(turn=5)),
        ("a day of one's own", "20 August is nearest to the second turn: nothing is said to be late", "2031-08-20",
         herbs(sow_on="2031-08-20")),
    ]  # fmt: skip


def pots() -> list[Case]:
    """What a job takes, says and costs, and spare plants that stand on a shelf that must go."""

    def herbs() -> Told:
        told = holding()
        told.add("variety", "v.pot", name="Old Pot", crop="potleaf")
        told.add("batch", "b.pot", variety="v.pot", year=2031, want=7, for_place="glass.bed2")
        told.did("2031-03-20", "sow", batch="b.pot", count=13, to_place="prop", job="b.pot.sow", part=1)
        return told

    up = herbs()
    up.did("2031-03-30", "emerge", batch="b.pot", count=11, job="b.pot.emerge", part=1)
    potted = Told(up.device)
    potted.records = list(up.records)
    potted.add(
        "fixture", "ledge", name="the ledge", sort="shelf", place="glass.bed1", in_way_of=["string"], holds=True, up=True
    )
    potted.did("2031-04-19", "pot_up", batch="b.pot", count=7, to_place="glass.bed2", job="b.pot.pot_up", part=1)
    potted.did("2031-04-20", "move", batch="b.pot", count=4, to_place="ledge")
    raised(bell(potted), "plant_out")
    return [
        ("seed to sow", "thirteen seeds for seven plants", "2031-03-10", herbs_not_sown()),
        ("pots and pegs", "half a litre to a plant, a peg to each third, rounded up", "2031-04-15", up),
        ("spare on the ledge", "the spare ones stand on what must come down", "2031-05-30", potted),
    ]


def herbs_not_sown() -> Told:
    """A batch of herbs that is only planned."""
    told = holding()
    told.add("variety", "v.pot", name="Old Pot", crop="potleaf")
    told.add("batch", "b.pot", variety="v.pot", year=2031, want=7, for_place="glass.bed2")
    return told


def years() -> list[Case]:
    """What stands for years: work of several seasons, a first crop that is over, what is old and asked about each winter."""

    def bushes(*did: tuple[str, str], planted: str = "2027-11-20") -> Told:
        told = holding()
        told.add("variety", "v.bush", name="Old Bush", crop="bush")
        told.add("batch", "b.bush", variety="v.bush", year=int(planted[:4]), want=3, for_place="field.bed1")
        told.did(planted, "plant_out", batch="b.bush", count=3, place="field.bed1", job="b.bush.plant_out", part=1)
        for on, verb in did:
            told.did(on, verb, batch="b.bush")
        return told

    unplanted = holding()
    unplanted.add("variety", "v.bush", name="Old Bush", crop="bush")
    unplanted.add("batch", "b.bush", variety="v.bush", year=2031, want=3, for_place="field.bed1")
    return [
        ("to be planted", "winter is too mild for it, and that is said before it is in the ground", "2031-11-10", unplanted),
        ("pruned in July", "told without a job: the summer's pruning is done, the winter's is not", "2031-07-01",
         bushes(("2031-06-25", "prune"))),
        ("pruned in January", "the winter's pruning is done, one pair of shears is taken for all three", "2031-01-20",
         bushes(("2030-12-12", "prune"))),
        ("its first crop", "in its second summer only the first picking is asked for", "2029-07-10", bushes()),
        ("picked in its second summer", "told without a job it is the first picking", "2029-07-10",
         bushes(("2029-07-08", "pick"))),
        ("picked in its fourth summer", "the first picking is long over: it is the other", "2031-07-10",
         bushes(("2031-07-08", "pick"))),
        ("planted long ago", "the work of this year alone, nothing of the twelve before", "2031-06-30",
         bushes(planted="2019-11-20")),
        ("grown old", "clearing is asked about in winter, and it may be kept another year", "2031-12-01",
         bushes(planted="2022-11-20")),
    ]  # fmt: skip


def bought() -> list[Case]:
    """Plants that are bought or rooted: never told to sow, ordered in time, planted in planting's own days."""

    def plants(*did: tuple[str, str, dict[str, object]], **fields: object) -> Told:
        told = holding()
        given = {"variety": "v.bell", "year": 2031, "want": 14, "for_place": "glass.bed1", "begins": "plants"} | fields
        told.add("batch", "b.bought", **given)
        for on, verb, more in did:
            told.did(on, verb, batch="b.bought", **more)
        return told

    order = ("2031-04-15", "order", {"job": "b.bought.order", "part": 1})
    planted = ("2031-05-26", "plant_out", {"count": 14, "place": "glass.bed1", "job": "b.bought.plant_out", "part": 1})
    return [
        ("to be ordered", "six weeks before planting, and nothing is sown or looked for", "2031-04-20", plants()),
        ("ordered", "what is ordered is not begun yet", "2031-04-20", plants(order)),
        ("planted", "from there on the path is that of raised plants", "2031-05-30", plants(order, planted)),
        ("cuttings", "taken twelve weeks before they are planted", "2031-03-01", plants(begins="cuttings")),
        ("a crop that is sown where it stays", "begins with seed whatever is said", "2031-02-20",
         plants(variety="v.root", for_place="field.bed1")),
    ]  # fmt: skip


def seasons() -> list[Case]:
    """What is done in a part of each year alone, what is told of nights, and what waits for a day that never comes."""
    stalks = holding()
    stalks.add("variety", "v.stalk", name="Old Stalk", crop="stalk")
    stalks.add("batch", "b.stalk", variety="v.stalk", year=2028, want=3, for_place="field.bed1")
    stalks.did("2028-11-05", "plant_out", batch="b.stalk", count=3, place="field.bed1", job="b.stalk.plant_out", part=1)
    pulled = Told(stalks.device)
    pulled.records = list(stalks.records)
    pulled.did("2031-06-24", "pick", batch="b.stalk", weight_g=800, job="b.stalk.pick.2031-06-14", part=1)
    late = bell(holding(), sow_on="2031-07-20")
    cold = holding()
    cold.add("variety", "v.frost", name="Old Frost", crop="frostleaf")
    cold.add("batch", "b.frost", variety="v.frost", year=2031, want=3, for_place="field.bed1")
    planted = Told(cold.device)
    planted.records = list(cold.records)
    planted.did("2031-05-26", "plant_out", batch="b.frost", count=3, place="field.bed1", job="b.frost.plant_out", part=1)
    ripens_late = raised(bell(holding()), "plant_out")
    ripens_late.change(ripens_late.records[-1], on="2031-08-12")
    return [
        ("certain nights", "the gate says from when nine nights in ten hold", "2031-04-01", cold),
        (
            "never warm enough",
            "heat that never comes asks for no picking, and clearing waits all the same",
            "2031-07-01",
            planted,
        ),
        ("in the midst of it", "a season that began last year still runs in January", "2032-01-20", planted),
        (
            "best day past the last",
            "its best day would be later: the last day stands",
            "2031-08-13",
            ripens_late,
        ),
        (
            "never in time",
            "sown so late that picking would begin after its last day: clearing waits for that day",
            "2031-07-10",
            late,
        ),
        ("out of season", "ready by its days in March 2030, but pulled from the end of March only", "2030-03-22", stalks),
        ("season over", "next due 4 July, after midsummer: the next is on the last day of March", "2031-07-10", pulled),
    ]


def seed() -> list[Case]:
    """Seed of one's own: what is left for it and when it is dry; and what comes of seed that has lain for years."""

    def roots(*did: tuple[str, str, dict[str, object]], **fields: object) -> Told:
        told = holding()
        given = {"variety": "v.root", "year": 2031, "want": 20, "for_place": "field.bed1", "save_seed": True} | fields
        told.add("batch", "b.root", **given)
        told.did("2031-03-10", "sow", batch="b.root", count=20, place="field.bed1", job="b.root.sow", part=1)
        for on, verb, more in did:
            told.did(on, verb, batch="b.root", **more)
        return told

    def old(year: int, **fields: object) -> Told:
        told = holding()
        told.add("variety", "v.seed", name="Old Seed", crop="warmseed", seed_year=year)
        told.add("batch", "b.seed", variety="v.seed", year=2031, want=4, for_place="field.bed1", **fields)
        return told

    picked = ("2031-05-28", "pick", {"job": "b.root.pick", "part": 1, "count": 16})
    pulled = ("2031-05-28", "pick", {"job": "b.root.pick", "part": 1, "count": 20})
    marked = ("2031-05-29", "look", {"job": "b.root.seed_mark", "part": 1})
    left = roots(picked)
    left.add("job", "b.root.seed_gather", let_go=True, let_go_on="2031-06-01")
    dry = ("2031-07-10", "note", {"job": "b.root.seed_gather", "part": 1})
    return [
        ("nothing picked yet", "both hang on the picking, and clearing waits for the seed past its own last day", "2031-05-20",
         roots()),
        ("picking begun", "four plants are chosen within a fortnight of the first picking, dry forty days after it",
         "2031-05-29", roots(picked)),
        ("all pulled", "where none is left for seed, nobody is asked for it", "2031-05-29", roots(pulled)),
        ("plants chosen", "only the gathering is left, and the year goes to the variety", "2031-07-08", roots(picked, marked)),
        ("gathered", "nothing of seed is left: clearing is asked for from then on", "2031-07-11", roots(picked, marked, dry)),
        ("forgotten", "six weeks past its last day the seed is taken as shed, and nothing waits for it", "2031-09-20",
         roots(picked, marked)),
        ("let go", "without its seed clearing has its own last day again", "2031-06-02", left),
        ("not wanted", "nobody is asked to save what nobody chose", "2031-05-29", roots(picked, save_seed=False)),
        ("last year's seed", "what was packed last year is fresh until this one ends", "2031-06-10", old(2030)),
        ("seed of three years ago", "it keeps for three years: two past its first, four in six of 65 come, about 40",
         "2031-06-10", old(2028)),
        ("old seed in cool ground", "50 in a hundred of its age, three in ten of those at 10 °C: both are said",
         "2031-04-01", old(2029, sow_on="2031-04-05")),
    ]  # fmt: skip
