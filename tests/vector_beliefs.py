"""Stories of what nobody told, of decisions and of frost: more of `tests.vector_cases`."""

from __future__ import annotations

from tests.kernel.small import Told, holding
from tests.vector_tellings import Case, bell, raised


def belief() -> list[Case]:
    """What nobody told is believed, not denied."""
    sown = raised(bell(holding()), "sow")
    up = raised(bell(holding()), "emerge")
    still = raised(bell(holding()), "sow")
    still.add("job", "b.bell.prick_out", still=True, still_on="2031-04-01")
    none = raised(bell(holding()), "sow")
    none.did("2031-02-26", "emerge", batch="b.bell", count=0)
    again = raised(bell(holding()), "sow")
    again.did("2031-02-26", "emerge", batch="b.bell", count=0)
    again.did("2031-03-08", "sow", batch="b.bell", place="prop", count=18)
    partly = raised(bell(holding()), "pot_up_2")
    partly.did("2031-05-22", "plant_out", batch="b.bell", count=6, place="glass.bed1", job="b.bell.plant_out", part=1)
    shown = raised(bell(holding()), "sow")
    shown.did("2031-08-02", "pick", batch="b.bell", weight_g=400)
    planted = raised(bell(holding()), "plant_out")
    held_back = bell(holding(), for_place="field.bed1")
    held_back.did("2030-07-01", "sow", batch="b.bell", place="prop", count=16)
    begun_anew = raised(bell(holding()), "plant_out")
    begun_anew.did("2031-11-08", "sow", batch="b.bell", place="prop", count=18)
    bought = bell(holding())
    bought.did("2031-04-03", "decide", batch="b.bell", answer="buy", count=10)
    return [
        (
            "nobody looked",
            "past the look's days nothing says that none came; the row asks all, some or none",
            "2031-03-02",
            sown,
        ),
        ("believed up", "once the look is of no use the seedlings are believed up, as many as usual", "2031-03-20", sown),
        ("believed raised", "in June planting waits for nothing that nobody told of", "2031-06-05", sown),
        ("believed planted", "past planting's last use it is believed, and what follows comes on", "2031-07-25", sown),
        ("believed over", "a season later nothing of it is asked", "2032-02-01", sown),
        ("told twice only", "told up, the rest is believed from there", "2031-05-01", up),
        ("still to do", "what somebody says is still to do is asked for four weeks more", "2031-04-20", still),
        ("looked, none", "0 up ends what follows, and calls for sowing again", "2031-03-03", none),
        ("sown again", "sown again the look begins anew", "2031-03-12", again),
        ("planted in part", "the other six are not asked for for ever, and are not moved", "2031-07-25", partly),
        ("shown by picking", "what was picked from was planted", "2031-08-03", shown),
        ("repeats keep up", "weeks without a word leave no turn long past", "2031-07-20", planted),
        ("too late", "past the last day that pays one decides: buy plants, or let go", "2031-04-05", bell(holding())),
        ("never begun", "and then it has lapsed, which is told", "2031-05-01", bell(holding())),
        (
            "held back",
            "plants sown last July outgrow their pots; in May the nights are still too cold to plant: not believed",
            "2031-05-01",
            held_back,
        ),
        (
            "begun anew",
            "sown again in November: October's end came first and says nothing of these, so clearing is asked for",
            "2031-12-28",
            begun_anew,
        ),
        ("bought", "plants that were bought stand as if raised", "2031-04-10", bought),
    ]


def decisions() -> list[Case]:
    """What is answered, not ticked."""
    open_ = raised(bell(holding()), "plant_out")
    two = raised(bell(holding()), "plant_out")
    two.did("2031-05-23", "decide", batch="b.bell", job="b.bell.stems", part=1, answer="two")
    late = raised(bell(holding(), for_place="field.bed1"), "pot_up_2")
    beds = holding()
    beds.add("job", "h.beds", hand=True, title="Which bed for the leeks", answers=["Bed 1", "Bed 2"], by_day="2031-06-10")
    decided = holding()
    decided.add("job", "h.beds", hand=True, title="Which bed for the leeks", answers=["Bed 1", "Bed 2"])
    decided.did("2031-06-01", "decide", job="h.beds", part=1, answer="Bed 2")
    early = bell(holding())
    return [
        ("before the strings", "stems are decided by the day the strings go up, and hold nothing up", "2031-05-24", open_),
        ("two stems", "twice the strings", "2031-05-24", two),
        ("pinched", "past the pot's limit before the nights: pot on, plant and cover, or wait", "2031-05-19", late),
        ("by hand", "a decision of one's own with its own answers", "2031-06-01", beds),
        ("by hand, made", "answered it is off the list", "2031-06-02", decided),
        ("could be begun", "open, but its good time weeks off: none of today's", "2031-01-21", early),
    ]


def frost() -> list[Case]:
    """A cold night among what is planted."""

    def cold(told: Told, on: str, tmin: float = -1.5) -> Told:
        told.did(on, "measure", place="glass", tmin=tmin, tmax=9)
        return told

    asked = cold(raised(bell(holding()), "plant_out"), "2031-05-26")
    borne = cold(raised(bell(holding()), "plant_out"), "2031-10-20")
    dead = cold(raised(bell(holding()), "plant_out"), "2031-05-26")
    dead.did(
        "2031-05-27",
        "lose",
        batch="b.bell",
        place="glass.bed1",
        count=12,
        answer="frost",
        job="b.bell.frost.2031-05-26",
        part=1,
    )
    alive = cold(raised(bell(holding()), "plant_out"), "2031-05-26")
    alive.did("2031-05-27", "decide", batch="b.bell", answer="alive", job="b.bell.frost.2031-05-26", part=1)
    all_lost = cold(raised(bell(holding()), "plant_out", count=12), "2031-05-26")
    all_lost.did("2031-05-27", "lose", batch="b.bell", count=12, answer="frost", job="b.bell.frost.2031-05-26", part=1)
    return [
        ("are they dead", "asked, not known; what never bore is not picked", "2031-05-27", asked),
        ("nobody said", "after a fortnight it is taken as over", "2031-06-15", asked),
        ("it has borne", "what bore is picked and cleared", "2031-10-21", borne),
        ("spares in their place", "two spares stand ready: they are to be planted", "2031-05-28", dead),
        ("they live", "everything goes on", "2031-05-28", alive),
        ("all lost", "too late to sow: buy, or let go", "2031-05-28", all_lost),
    ]


def caught() -> list[Case]:
    """What is believed of each batch after weeks without a word; asked through `catch_up`."""
    sown = raised(bell(holding()), "sow")
    planted = raised(bell(holding()), "plant_out")
    return [
        ("a week", "nobody is asked after a week", "2031-05-28", planted),
        ("five weeks in spring", "up, pricked out: so, or none came", "2031-04-01", sown),
        ("five weeks in summer", "strung, fed: so, or ended", "2031-07-01", planted),
        ("not begun", "its time is past: was it sown about then", "2031-04-14", bell(holding(), sow_on="2031-03-25")),
    ]
