"""The same year told as people really tell it: late, in part, with weeks of silence. The list stays short and true."""

from __future__ import annotations

from typing import Any

from server.kernel.catch_up import catch_up
from server.kernel.settle import settle
from tests.builders import withy_end_rulebook
from tests.story.withy_end import YEAR, Household, Job


def answer(home: Household, on: str, way: dict[str, Any], job: Job | None = None, **more: Any) -> None:
    """What the app writes when an answer is tapped."""
    for at, tell in enumerate(way["tells"]):
        fields = dict(tell)
        if job is not None and (tell["did"] == job["verb"] or job["verb"] == "decide"):
            fields |= {"job": job["id"], "part": job["part"]}
        day = fields.pop("on", f"{YEAR}-{on}")[5:]
        home.did(day, fields.pop("did"), **{**fields, **({} if at else more)})
    for change in way["changes"]:
        home.put(change["kind"], change["id"], **change["fields"])


def way(job: Job, id_: str) -> dict[str, Any]:
    """One of a job's answers."""
    return next(one for one in job["ways"] if one["id"] == id_)


def test_basil_nobody_looked_at() -> None:
    """Sown on 6 April, and nobody wrote whether any came up: asked, never denied, and carried on by the calendar."""
    home = Household()
    home.batch("basil", "basil", "Purple Ruff", want=20, for_place="tunnel.2")
    home.did("04-06", "sow", batch="basil", place="lean_to.prop", count=60)
    asked = home.job("04-12", "Look for basil seedlings")
    assert [one["say"] for one in asked["ways"]] == ["All up", "Some", "None"]
    for on in ("04-12", "04-20", "05-01", "05-20"):
        assert not [title for title in home.titles(on) if "Sow again" in title or "none up" in title]
    prick = home.job("04-26", "Prick out")
    assert prick["count"] == 24, "twenty and a reserve, never all sixty"
    assert any("by the calendar" in line for line in prick["why"])
    answer(home, "04-13", way(asked, "none"), asked)
    assert not [title for title in home.titles("04-20") if "Prick out" in title]
    assert home.job("04-20", "Sow again")["state"] == "ready"


def test_french_beans_sown_in_may_are_planted_in_june() -> None:
    """Sown 18 May in modules, nothing told since: fit to plant, and never first asked for seedlings or hardening."""
    home = Household()
    home.batch("bean", "french_bean", "Wicket", want=25, for_place="top.1")
    home.did("05-18", "sow", batch="bean", place="lean_to.prop", count=34)
    assert home.job("06-02", "Plant 25 French beans")["from"] <= f"{YEAR}-06-10"
    plant = home.job("06-30", "Plant 25 French beans")
    assert plant["state"] == "ready" and plant["in_the_way"] == []
    assert not [title for title in home.titles("06-30", "ready", "waiting") if "seedlings" in title or "Harden" in title]
    told = [job for job in home.list("06-30") if job["state"] == "lapsed"]
    assert told and all("by the calendar" in job["why"][0] for job in told)


def test_aubergines_too_long_in_their_pots_are_to_be_decided() -> None:
    """In 1 L since 28 March, nights at 7 C: today, with its ways out as answers that write what they say."""
    home = Household()
    home.batch("aubergine", "aubergine", "Dusk", want=6, for_place="tunnel.1")
    for on, did, more in (
        ("02-10", "sow", {"count": 9, "place": "lean_to.prop"}), ("02-20", "emerge", {"count": 7}),
        ("03-02", "prick_out", {"count": 6}), ("03-16", "pot_up", {"count": 6, "pot_l": 0.3}),
        ("03-28", "pot_up", {"count": 6, "pot_l": 1, "place": "lean_to.shelf"}),
    ):  # fmt: skip
        home.did(on, did, batch="aubergine", **more)
    job = home.job("05-09", "Plant 6 aubergines")
    assert job["state"] == "ready" and "pinched" in job["pinched"]
    assert [one["id"] for one in job["ways"]] == ["pot_on", "cover", "wait"]
    assert "2\u00a0L" in way(job, "pot_on")["say"] and "past what their pots hold" in way(job, "wait")["note"]
    answer(home, "05-09", way(job, "pot_on"), job)
    potted = home.job("05-09", "Plant 6 aubergines")
    assert potted["by"] > job["by"] and not potted["pinched"], "the limit counts from the bigger pot"
    again = Household()
    again.records = dict(home.records)
    answer(again, "05-09", way(job, "wait"), job)
    assert again.job("05-09", "Plant 6 aubergines")["state"] == "later"


def test_planting_under_fleece_brings_its_taking_off() -> None:
    home = Household()
    home.batch("aubergine", "aubergine", "Dusk", want=6, for_place="tunnel.1")
    home.did("03-28", "pot_up", batch="aubergine", count=6, pot_l=1, place="lean_to.shelf")
    job = home.job("05-09", "Plant 6 aubergines")
    answer(home, "05-09", way(job, "cover"), job)
    assert [deed["fields"]["did"] for deed in home.records.values() if deed["kind"] == "diary"][-2:] == ["plant_out", "cover"]
    off = home.job("05-10", "Take the fleece off")
    assert "2031-05-25" <= off["from"] <= job["from"] and off["state"] == "later"


def test_stems_are_a_decision_of_their_own() -> None:
    """In nobody's way; due by the day the strings go up; two stems take two strings."""
    home = Household()
    home.batch("pepper", "sweet_pepper", "Barn", want=8, for_place="long.south")
    home.did("04-10", "pot_up", batch="pepper", count=8, pot_l=0.3, place="lean_to.shelf")
    home.did("05-02", "pot_up", batch="pepper", count=8, pot_l=1, place="lean_to.shelf")
    stems, string = home.job("05-14", "Decide on stems"), home.job("05-14", "Tie up 8 sweet peppers")
    assert stems["by"] is not None and stems["by"] <= string["aim"] and not string["ways"]
    assert all(it.get("job") != stems["id"] for job in home.list("05-14") for it in job["in_the_way"])
    answer(home, "05-14", way(stems, "one"), stems)
    one = home.job("05-15", "Tie up 8 sweet peppers")
    assert [need["amount"] for need in one["needs"]] == [8] and [need["amount"] for need in string["needs"]] == [16]
    assert not [title for title in home.titles("05-15") if "stems" in title]


def test_frost_four_days_after_planting() -> None:
    """Courgettes out on 22 May, -1.6 C on the 26th: asked; then the spares, or sown again while it pays; nothing is picked."""
    home = Household()
    home.batch("courgette", "courgette", "Marrowby", want=3, for_place="top.2")
    home.did("04-18", "sow", batch="courgette", place="lean_to.prop", count=7)
    home.did("04-26", "emerge", batch="courgette", count=5)
    home.did("05-22", "plant_out", batch="courgette", count=3, place="lean_to.prop", to_place="top.2")
    home.did("05-26", "measure", place="top", tmin=-1.6, tmax=12)
    asked = home.job("05-26", "Are the courgettes dead?")
    assert asked["ways"][0]["id"] == "dead" and asked["state"] == "ready"
    assert any("2 spare" in line for line in asked["why"]) and any("sown again until" in line for line in asked["why"])
    assert not [title for title in home.titles("05-26") if "Pick" in title or "Clear" in title]
    answer(home, "05-26", way(asked, "dead"), asked)
    assert home.job("05-27", "Plant 2 courgettes")["from"] <= f"{YEAR}-06-05"
    home.did("05-28", "lose", batch="courgette", answer="frost", count=2)
    again = home.job("05-29", "Sow again")
    assert again["by"] is not None and again["by"] > f"{YEAR}-06-02"


def test_frosted_potatoes_come_again() -> None:
    """Tops are cut back between -2 and 0 C (relative frost resistance of temperate crops, PMC10202904 Table 2)."""
    home = Household()
    home.batch("potato", "potato", "Early Wen", want=20, for_place="top.3")
    home.did("03-25", "plant_out", batch="potato", count=20, to_place="top.3")
    home.did("05-06", "measure", place="top", tmin=-2, tmax=10)
    look = home.job("05-12", "come again")
    assert "Earth up" in look["hint"]
    assert [title for title in home.titles("05-12") if title.startswith("Lift")], "they are lifted in their time all the same"
    home.tick("05-13", look)
    assert not [title for title in home.titles("05-14") if "come again" in title]


def test_five_weeks_away_are_caught_up_with_a_tap_a_batch() -> None:
    """26 May to 30 June without a word; then one tap each, and the list is as if all had been told on those days."""
    home = Household()
    home.batch("tomato", "tomato", "Long Tom", want=14, for_place="tunnel.3")
    home.did("03-09", "sow", batch="tomato", place="lean_to.prop", count=20)
    home.did("03-16", "emerge", batch="tomato", count=16)
    home.did("04-20", "pot_up", batch="tomato", count=14, pot_l=1, place="lean_to.shelf")
    home.batch("leek", "leek", "Ferrule", want=40, for_place="top.4")
    home.did("03-30", "sow", batch="leek", place="lean_to.shelf", count=60)
    home.did("04-14", "emerge", batch="leek", count=50)
    home.did("05-20", "note", note="watered")
    caught = catch_up(withy_end_rulebook(), list(home.records.values()), f"{YEAR}-06-30")
    assert caught["due"] and caught["since"] == f"{YEAR}-05-20"
    says = {line["batch"]: line["says"] for line in caught["lines"]}
    assert says["tomato"].startswith("planted about") and "strung" in says["tomato"] and len(says) == 2
    before = [job for job in home.list("06-30") if job["state"] in ("ready", "waiting") and (job["leeway"] or 0) < 0]
    for line in caught["lines"]:
        answer(home, "06-30", line["ways"][0])
    assert all(row["fields"]["about"] == f"{YEAR}-06-30" for row in home.records.values() if row["fields"].get("about"))
    assert not catch_up(withy_end_rulebook(), list(home.records.values()), f"{YEAR}-06-30")["lines"]
    late = [job for job in home.list("06-30") if job["state"] in ("ready", "waiting") and (job["leeway"] or 0) < 0]
    assert len(late) <= len(before) and all(job["leeway"] > -21 for job in late)
    assert [job for job in home.list("06-30") if job["title"].startswith("Side-shoot 14 tomatoes") and job["state"] != "lapsed"]


def test_still_in_pots_is_not_planted() -> None:
    home = Household()
    home.batch("tomato", "tomato", "Long Tom", want=14, for_place="tunnel.3")
    home.did("04-20", "pot_up", batch="tomato", count=14, pot_l=1, place="lean_to.shelf")
    line = catch_up(withy_end_rulebook(), list(home.records.values()), f"{YEAR}-06-30")["lines"][0]
    answer(home, "06-30", next(one for one in line["ways"] if one["id"] == "pots"))
    assert home.job("07-20", "Plant 14 tomatoes")["state"] == "ready", "asked for four weeks more"


def test_what_still_gives_is_not_cleared_for_what_comes_in_september() -> None:
    """12 July: cucumbers in full picking, lettuces follow in that bed in September."""
    home = Household()
    home.batch("cucumber", "cucumber", "Long", want=4, for_place="tunnel.2")
    home.did("05-20", "plant_out", batch="cucumber", count=4, to_place="tunnel.2")
    home.did("07-10", "pick", batch="cucumber", count=5, job="cucumber.pick", part=1)
    home.batch("lettuce", "lettuce", "Winter Gem", want=12, for_place="tunnel.2", follows="cucumber", sow_on=f"{YEAR}-08-10")
    assert not [title for title in home.titles("07-12", "ready", "waiting") if "Clear" in title]
    assert "cleared" in str([job["in_the_way"] for job in home.list("07-12") if job["title"].startswith("Plant 12 lettuces")])


def test_squash_comes_in_before_the_frost() -> None:
    home = Household()
    home.batch("squash", "squash", "Hoard", want=4, for_place="top.4")
    home.did("06-02", "plant_out", batch="squash", count=4, to_place="top.4")
    cut = next(job for job in home.list("09-03") if job["verb"] == "pick" and job["state"] != "lapsed")
    assert cut["by"] is not None and f"{YEAR}-09-01" < cut["by"] < f"{YEAR}-10-18"


def test_january_holds_nothing_of_last_year() -> None:
    """Nothing told since November: no look, mesh or straw of last year."""
    home = Household()
    for id_, crop, on in (("bean", "french_bean", "05-18"), ("tomato", "tomato", "03-09"), ("carrot", "carrot", "04-02")):
        home.batch(id_, crop, id_.title(), want=10, for_place="top.1")
        home.did(on, "sow", batch=id_, place="lean_to.prop", count=20)
    home.did("11-02", "note", note="the last of it")
    january = settle(withy_end_rulebook(), list(home.records.values()), f"{YEAR + 1}-01-10")
    assert not [job["title"] for job in january if job["state"] in ("ready", "waiting") and job["batch"]]
