"""The cases behind `tests/vectors`: small households told by hand, each to show one rule.

A case is (name, the rule in words, today, the household), and the minutes there are where `fit` is asked.
`tests.write_vectors` asks the kernel and writes them down.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.kernel.small import Told, holding
from tests.vector_beliefs import belief, caught, decisions, frost
from tests.vector_room import standing_room
from tests.vector_seasons import bought, coming_up, pots, seasons, seed, turns, warmth, years
from tests.vector_shed import stock, tin
from tests.vector_tellings import Case, bell, raised
from tests.vector_upkeep import in_store, store, upkeep


def path() -> list[Case]:
    """From seed to last picking."""
    partly = raised(bell(holding()), "pot_up_2")
    partly.did("2031-05-22", "plant_out", batch="b.bell", count=6, place="glass.bed1", job="b.bell.plant_out", part=1)
    uncounted = bell(holding(), want=None)
    uncounted.did("2031-02-14", "sow", batch="b.bell", place="prop")
    own_day = bell(holding(), sow_on="2031-02-01")
    let_slip = bell(holding())
    poor = bell(holding())
    poor.did("2031-02-14", "sow", batch="b.bell", place="prop", count=20)
    poor.did("2031-02-23", "emerge", batch="b.bell", count=5)
    lost = raised(bell(holding()), "pot_up_1")
    lost.did("2031-04-01", "lose", batch="b.bell", count=9, place="glass.bed2")
    return [
        ("not begun", "before its window it is later, with the window's dates", "2031-01-10", bell(holding())),
        ("in its window", "inside its window it is ready, and asks for seeds enough for twelve", "2031-02-01", bell(holding())),
        (
            "past its window",
            "past its last day it is still asked for, with a leeway below nought",
            "2031-04-10",
            bell(holding()),
        ),
        ("let slip", "a fortnight past its last day nobody is asked for it", "2031-07-15", let_slip),
        ("own sowing day", "a day of one's own moves the window", "2031-01-28", own_day),
        (
            "up to be looked for",
            "after sowing one looks for seedlings, from the emergence table",
            "2031-02-20",
            raised(bell(holding()), "sow"),
        ),
        ("pricked out next", "seedlings up are pricked out, all that came", "2031-03-01", raised(bell(holding()), "emerge")),
        ("sown again in time", "too few came up: sow what is missing again while it is of use", "2031-03-20", poor),
        ("too late to sow again", "after the last sowing day nothing is sown again", "2031-04-20", poor),
        ("first potting", "the pot's step counts days from the one before", "2031-03-20", raised(bell(holding()), "prick_out")),
        ("planted in part", "six of twelve planted: the step stays open for the other six", "2031-05-24", partly),
        ("without counts", "nobody counts: the step is open for all, and done at one tick", "2031-02-20", uncounted),
        ("losses", "what was lost is not potted on", "2031-04-12", lost),
        (
            "planted",
            "planting brings stringing, training and the look for fruit with dates",
            "2031-05-23",
            raised(bell(holding()), "plant_out"),
        ),
        (
            "done today",
            "a tick of today is a done row, with the deed behind it",
            "2031-05-22",
            raised(bell(holding()), "plant_out"),
        ),
    ]


def limits() -> list[Case]:
    """Gates, pots too small, and what pinches."""
    gone = raised(bell(holding()), "pot_up_2")
    told = raised(bell(holding()), "pot_up_1")
    heat = bell(holding())
    return [
        (
            "night gate",
            "nights are not warm enough before 20 May, and that is what it waits on",
            "2031-05-10",
            raised(bell(holding()), "pot_up_2"),
        ),
        ("gate passed", "from the gate's day on it is ready", "2031-05-21", gone),
        (
            "one day left",
            "the pot holds it to 21 May, and only one day is left after the gate",
            "2031-05-20",
            raised(bell(holding()), "pot_up_2"),
        ),
        ("too long in its pot", "35 days in the little pot and the pot says so", "2031-05-10", told),
        ("everything is later", "a whole path is laid out from guessed days, none of them ready", "2031-01-05", heat),
    ]


def spare() -> list[Case]:
    """More plants than are wanted."""
    left = raised(bell(holding()), "plant_out", count=15)
    gone = raised(bell(holding()), "plant_out", count=15)
    gone.did("2031-05-23", "lose", batch="b.bell", count=3, place="glass.bed2", job="b.bell.spare", part=1)
    return [
        ("three spare", "twelve are planted and three stand behind: one low job, bounded by nothing", "2031-05-24", left),
        ("spares gone", "given away, the low job is gone", "2031-05-25", gone),
    ]


def ways() -> list[Case]:
    """What is in the way of what."""

    def roots(told: Told) -> Told:
        told.add("batch", "b.root", variety="v.root", year=2031, want=None, for_place="glass.bed1")
        told.did("2031-03-01", "sow", batch="b.root", place="glass.bed1", job="b.root.sow", part=1)
        told.did("2031-03-20", "emerge", batch="b.root", job="b.root.emerge", part=1)
        return told

    follows = roots(holding())
    bell(follows, follows="b.root")
    raised(follows, "pot_up_2")
    cleared = roots(holding())
    bell(cleared, follows="b.root")
    raised(cleared, "pot_up_2")
    cleared.did("2031-05-18", "clear", batch="b.root", job="b.root.clear", part=1)
    shelf = raised(bell(holding()), "plant_out")
    shelf.add("fixture", "shelf", name="the shelf", sort="shelf", place="glass.bed1", in_way_of=["string"], holds=True, up=True)
    stood = raised(bell(holding()), "plant_out")
    stood.add("fixture", "shelf", name="the shelf", sort="shelf", place="glass.bed1", in_way_of=["string"], holds=True, up=True)
    stood.add("batch", "b.late", variety="v.bell", year=2031, want=6, for_place="glass.bed2")
    stood.did("2031-05-01", "sow", batch="b.late", place="shelf", count=8)
    down = raised(bell(holding()), "plant_out")
    down.add("fixture", "shelf", name="the shelf", sort="shelf", place="glass.bed1", in_way_of=["string"], holds=True, up=True)
    down.did("2031-05-25", "remove", fixture="shelf")
    circle = holding()
    bell(circle, follows="b.root")
    circle.add("batch", "b.root", variety="v.root", year=2031, for_place="glass.bed1", follows="b.bell")
    return [
        ("follows", "the bed must be cleared first, and clearing is hurried for it", "2031-05-22", follows),
        ("cleared", "once cleared nothing is in the way", "2031-05-22", cleared),
        ("fixture in the way", "the shelf comes down before the strings go up", "2031-05-30", shelf),
        ("what stands on it", "seedlings stand on the shelf: it waits for them to be moved", "2031-05-30", stood),
        ("fixture taken down", "down it is in nobody's way", "2031-05-30", down),
        ("a circle", "two batches that follow each other: the circle is broken at one place and said", "2031-03-01", circle),
    ]


def told_twice() -> list[Case]:
    """One job ticked on two phones, and in two parts."""
    twice = raised(bell(holding()), "pot_up_2")
    for person, count in (("hazel", 6), ("jim", 8)):
        twice.did(
            "2031-05-22",
            "plant_out",
            batch="b.bell",
            count=count,
            place="glass.bed1",
            job="b.bell.plant_out",
            part=1,
            by=person,
        )
    parts = raised(bell(holding()), "pot_up_2")
    for part, count in ((1, 6), (2, 4)):
        parts.did("2031-05-22", "plant_out", batch="b.bell", count=count, place="glass.bed1", job="b.bell.plant_out", part=part)
    gone = raised(bell(holding()), "pot_up_2")
    gone.did("2031-05-22", "plant_out", batch="b.bell", count=12, place="glass.bed1", job="b.bell.plant_out", part=1, gone=True)
    return [
        ("told by two", "the same job and part is one deed with the larger count, 8 and not 14", "2031-05-22", twice),
        ("two parts", "different parts add up: ten are planted, two to go", "2031-05-22", parts),
        ("taken back", "a deed that is gone was never done", "2031-05-22", gone),
    ]


def repeats() -> list[Case]:
    """What comes again."""
    trained = raised(bell(holding()), "plant_out")
    trained.did("2031-06-05", "train", batch="b.bell", job="b.bell.train", part=1)
    ended = raised(bell(holding()), "plant_out")
    ended.did("2031-08-12", "train", batch="b.bell", job="b.bell.train.2031-08-05", part=1)
    picking = raised(bell(holding()), "plant_out")
    picking.did("2031-08-01", "pick", batch="b.bell", weight_g=900, job="b.bell.pick", part=1)
    frost = raised(bell(holding()), "plant_out")
    frost.did("2031-10-09", "measure", place="glass", tmin=-2, tmax=9)
    return [
        ("every week", "training comes again seven days after it was done, under an id with that day", "2031-06-10", trained),
        ("until its end", "after its last day it comes no more", "2031-08-20", ended),
        ("picking", "picking comes every fourth day", "2031-08-03", picking),
        ("frosted", "a frost that kills leaves only picking and clearing", "2031-10-10", frost),
    ]


def house() -> list[Case]:
    """Looking over, watering and connecting."""
    hand = raised(bell(holding()), "plant_out")
    looked = raised(bell(holding()), "plant_out")
    looked.did("2031-06-01", "look", place="glass", job="glass.over", part=1)
    line = raised(bell(holding()), "plant_out")
    line.add("fixture", "drip", name="the drip line", sort="drip_line", place="glass.bed1", up=False)
    line.did("2031-05-24", "install", fixture="drip")
    joined = raised(bell(holding()), "plant_out")
    joined.add("fixture", "drip", name="the drip line", sort="drip_line", place="glass.bed1", up=False)
    joined.did("2031-05-24", "install", fixture="drip")
    joined.did("2031-05-26", "connect", fixture="drip")
    return [
        ("an empty house", "where nothing stands nothing is asked for", "2031-06-02", holding()),
        ("look over and water", "a house with plants is looked over weekly and watered by hand", "2031-06-02", hand),
        ("looked over", "looked over yesterday: next in six days", "2031-06-02", looked),
        ("line to connect", "a line put up asks to be connected, which can wait a fortnight", "2031-05-27", line),
        ("line connected", "connected, nobody waters by hand there", "2031-06-02", joined),
    ]


def watch() -> list[Case]:
    """Mites, and the weeks after."""

    def seen(level: str = "many") -> Told:
        told = raised(bell(holding()), "plant_out")
        told.did("2031-06-02", "look", batch="b.bell", place="glass.bed1", found="mite", level=level)
        return told

    treated = seen()
    treated.did("2031-06-02", "treat", batch="b.bell", place="glass.bed1", found="mite", at="18:00")
    once = seen()
    once.did("2031-06-12", "look", batch="b.bell", place="glass.bed1", found="mite", level="none")
    clear = seen()
    clear.did("2031-06-12", "look", batch="b.bell", place="glass.bed1", found="mite", level="none")
    clear.did("2031-06-20", "look", batch="b.bell", place="glass.bed1", found="mite", level="none")
    clear.did("2031-06-28", "look", batch="b.bell", place="glass.bed1", found="mite", level="none")
    return [
        ("seen", "many mites: treat them, and look again soon", "2031-06-03", seen()),
        ("treated", "treated: the next look is three or four days off", "2031-06-04", treated),
        ("one clear look", "one clear look is not enough: look again a week later", "2031-06-14", once),
        ("clear", "clear looks to the end of the watch: it is over", "2031-06-29", clear),
        ("few", "few mites open a watch too", "2031-06-03", seen("few")),
    ]


def by_hand() -> list[Case]:
    """Jobs written by hand, put off, let go."""
    door = holding()
    door.add("job", "j.door", hand=True, title="Mend the door", place="glass", by_day="2031-05-22", minutes=30)
    wait = holding()
    wait.add("job", "j.buy", hand=True, title="Buy hinges", by_day="2031-05-20", minutes=10)
    wait.add(
        "job", "j.door", hand=True, title="Mend the door", place="glass", by_day="2031-05-22", minutes=30, waits_on=["j.buy"]
    )
    ticked = holding()
    ticked.add("job", "j.door", hand=True, title="Mend the door", place="glass", by_day="2031-05-22", minutes=30)
    ticked.did("2031-05-18", "note", job="j.door", part=1)
    again = holding()
    again.add("job", "j.heap", hand=True, title="Turn the heap", every_days=42, **{"from": "2031-02-20"})
    again.did("2031-04-20", "note", job="j.heap.2031-02-20", part=1)
    off = bell(holding())
    off.add("job", "b.bell.sow", put_off_until="2031-02-20")
    dropped = bell(holding())
    dropped.add("job", "b.bell.sow", let_go=True, let_go_on="2031-02-01")
    for_jim = bell(holding())
    for_jim.add("job", "b.bell.sow", **{"for": "jim"})
    return [
        ("by hand", "a job by hand stands in its place with its day", "2031-05-19", door),
        ("waits on another", "it waits on the other by name, and pulls it", "2031-05-19", wait),
        ("ticked", "ticked it is over", "2031-05-19", ticked),
        ("comes again", "every 42 days from when it was last done", "2031-05-19", again),
        ("put off", "put off it is later, and says so", "2031-02-12", off),
        ("let go", "let go on that very day it is a row of its own, and holds up nothing", "2031-02-01", dropped),
        ("for somebody", "it says for whom", "2031-02-12", for_jim),
    ]


def year() -> list[Case]:
    """Leap days, year ends, the other half of the world."""
    leap = holding()
    leap.add("batch", "b.bell", variety="v.bell", year=2032, want=12, for_place="glass.bed1")
    leap.did("2032-02-29", "sow", batch="b.bell", place="prop", count=20)
    over = holding()
    over.add("batch", "b.root", variety="v.root", year=2031, for_place="field.bed1", sow_on="2031-12-28")
    over.did("2031-12-28", "sow", batch="b.root", place="field.bed1")
    clocks = raised(bell(holding()), "plant_out")
    return [
        ("leap day", "sown on 29 February, looked for in March", "2032-03-05", leap),
        ("over the new year", "days are counted through the year's end", "2032-01-10", over),
        ("clocks change", "a day is a day when clocks go back", "2031-10-26", clocks),
    ]


def rest() -> list[Case]:
    """What no list needs any more; asked through `resting`."""

    def over(on: str, **fields: object) -> Told:
        told = raised(bell(holding(), **fields), "plant_out")
        told.did(on, "clear", batch="b.bell", job="b.bell.clear", part=1)
        return told

    named = over("2031-10-20")
    named.add("batch", "b.next", variety="v.bell", year=2032, want=6, for_place="glass.bed1", follows="b.bell")
    dropped = bell(holding())
    unknown = holding()
    unknown.add("variety", "v.lost", name="Lost Seed", crop="moonflower")
    unknown.add("batch", "b.lost", variety="v.lost", year=2031, want=3, for_place="glass.bed1")
    looked = holding()
    for on in ("2031-03-01", "2031-04-01", "2031-05-01"):
        looked.did(on, "look", place="glass")
    frost = holding()
    frost.did("2031-01-04", "measure", place="glass", tmin=-3, tmax=4)
    frost.did("2031-06-04", "measure", place="glass", tmin=12, tmax=24)
    frost.did("2031-06-05", "measure", place="glass", tmin=11, tmax=25)
    read = holding()
    for month in ("2029-03", "2030-12"):
        read.add("readings", f"readings.glass.{month}", place="glass", month=month, d01=[2, 9])
    return [
        ("old readings", "a month read more than two years ago rests, a later one does not", "2031-04-10", read),
        ("over 119 days", "over, but not for long: nothing rests", "2032-02-16", over("2031-10-20")),
        ("over 121 days", "four months over: the batch rests with all its deeds", "2032-02-18", over("2031-10-20")),
        ("still named", "a batch to come takes over from it: it stays awake", "2032-02-18", named),
        ("never begun, last year", "never sown: kept through the next year", "2032-11-01", dropped),
        ("never begun, long ago", "never sown, and the year after is over: it rests", "2033-01-02", dropped),
        ("of no known crop", "without a path it asks for nothing, and rests by its year", "2033-01-02", unknown),
        ("old looks", "of old looks at a place only the newest is needed", "2032-02-18", looked),
        ("cold readings", "a killing cold is never forgotten; a warm day is, but for the newest", "2032-02-18", frost),
    ]


def standing() -> list[Case]:
    """What stands where; asked through `stand`."""
    parted = raised(bell(holding()), "pot_up_2")
    parted.did("2031-05-22", "plant_out", batch="b.bell", count=6, place="glass.bed1", job="b.bell.plant_out", part=1)
    lost = raised(bell(holding()), "plant_out")
    lost.did("2031-06-01", "lose", batch="b.bell", count=2, place="glass.bed1")
    lost.did("2031-08-01", "pick", batch="b.bell", weight_g=900, job="b.bell.pick", part=1)
    over = raised(bell(holding()), "plant_out")
    over.did("2031-10-20", "clear", batch="b.bell", job="b.bell.clear", part=1)
    seen = raised(bell(holding()), "plant_out")
    seen.did("2031-06-02", "look", batch="b.bell", place="glass.bed1", found="mite", level="many")
    return [
        ("not begun", "planned, with the spans its season will have", "2031-01-10", bell(holding())),
        ("in two places", "six planted in bed 1, eight in their pots in bed 2, two of them spare", "2031-05-23", parted),
        ("lost and picked", "two lost, 900 g picked, ten stand", "2031-08-02", lost),
        ("over", "cleared: nothing stands", "2031-10-21", over),
        ("under watch", "mites seen open a watch on the batch", "2031-06-03", seen),
    ]


def time_there_is() -> list[Case]:
    """What goes into the minutes there are; asked through `fit`."""

    def day(*jobs: tuple[str, str, str, int]) -> Told:
        told = holding()
        for id_, place, by_day, minutes in jobs:
            told.add("job", id_, hand=True, title=f"Mend {id_}", place=place, by_day=by_day, minutes=minutes)
        return told

    walk = day(("a", "glass", "2031-05-30", 10), ("b", "field", "2031-05-19", 10), ("c", "field", "2031-06-20", 10))
    tight = day(("a", "glass", "2031-05-19", 30), ("b", "field", "2031-05-18", 30), ("c", "glass", "2031-05-25", 5))
    return [
        ("everything fits", "all three are taken", "2031-05-19", walk, 30),
        (
            "few places",
            "today's job first, then on in the house one stands in, though another is sooner",
            "2031-05-19",
            walk,
            20,
        ),
        ("runs out", "the one past goes first; the one of today is left and said to run out", "2031-05-19", tight, 40),
        ("no time", "nothing fits, and both that press are said", "2031-05-19", tight, 4),
    ]


Story = Callable[[], list[Case]]
DOORS: dict[str, dict[str, Story]] = {
    "settle": {
        "path": path, "limits": limits, "spare": spare, "ways": ways, "told_twice": told_twice, "repeats": repeats,
        "seasons": seasons, "house": house, "watch": watch, "by_hand": by_hand, "year": year, "warmth": warmth, "pots": pots,
        "coming_up": coming_up, "years": years, "bought": bought, "upkeep": upkeep, "store": store,
        "turns": turns, "belief": belief, "decisions": decisions, "frost": frost, "seed": seed,
    },
    "resting": {"rest": rest, "in_store": in_store},
    "stand": {"standing": standing, "in_store": in_store, "tin": tin},
    "fit": {"time_there_is": time_there_is},
    "catch_up": {"caught": caught},
    "room": {"standing_room": standing_room, "stock": stock},
}  # fmt: skip
"""The stories of each door of the kernel."""
