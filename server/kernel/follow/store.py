"""Stores: what was picked and brought in, by its batch; when it is to be used, and what is still to be brought in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.ways import way
from server.kernel.read.batch_state import BatchState
from server.kernel.read.days import spoken
from server.kernel.read.words import days_words
from server.kernel.when.work import Work

STORE = "store"
"""The sort of a place, and the verb by which something comes into it."""
BROUGHT_IN_DAYS = (2, 21)
"""Best and last day to bring in what is cured."""
ASKED_DAYS = 35
"""So long after it could be brought in nobody is asked for it any more: it was eaten."""
FORGOTTEN_DAYS = 60
"""So long past its last day what lies in a store is taken as used."""
WITH_THE_LAST_DAYS = 2
"""Plants cleared within so many days of a picking were lifted with it; what is cleared later was eaten by then."""
MINUTES, USE_MINUTES = 15, 5


@dataclass(slots=True)
class Lot:
    """What lies in a store of one batch. Amounts are what is left; None where nobody weighed or counted."""

    place: str
    since: int
    ends: int
    grams: int | None = None
    count: int | None = None


def stores(know: Knowledge) -> list[str]:
    """Places that are stores, in walking order."""
    found = [place for place in know.ground.places.values() if place.sort == STORE]
    return [place.id for place in sorted(found, key=lambda place: (know.ground.walk(place.house), place.walk, place.id))]


def lots_of(state: BatchState, know: Knowledge) -> list[Lot]:
    """What lies in stores of a batch, in order of place."""
    rule = state.know.get("store")
    if rule is None:
        return []
    lots: dict[str, Lot] = {}
    for deed, _ in state.deeds:
        if deed.did in ("pick", STORE) and deed.to_place is not None and _is_store(deed.to_place, know):
            lot = lots.get(deed.to_place)
            if lot is None:
                lot = lots[deed.to_place] = Lot(deed.to_place, deed.on, deed.on + rule["keeps"])
            lot.grams = _plus(lot.grams, deed.weight_g)
            lot.count = _plus(lot.count, deed.count)
        elif deed.did == "use":
            for place in [deed.place] if deed.place in lots else list(lots):
                if _used(lots[place], deed.weight_g, deed.count):
                    del lots[place]
    return [lots[place] for place in sorted(lots) if know.today <= lots[place].ends + FORGOTTEN_DAYS]


def harvest_words(state: BatchState) -> str:
    """What is picked of a batch: `apples` of apple trees."""
    return str(state.know.get("harvest") or state.know.get("many") or "it")


def _is_store(id_: str, know: Knowledge) -> bool:
    place = know.ground.places.get(id_)
    return place is not None and place.sort == STORE


def _plus(amount: int | None, more: int | None) -> int | None:
    return amount if more is None else (amount or 0) + more


def _used(lot: Lot, grams: int | None, count: int | None) -> bool:
    """Take something from a lot, in place; whether nothing is left of it."""
    if grams is None and count is None:
        return True
    if grams is not None and lot.grams is not None:
        lot.grams = max(0, lot.grams - grams)
    if count is not None and lot.count is not None:
        lot.count = max(0, lot.count - count)
    return lot.grams == 0 or lot.count == 0


def store_work(id_: str, know: Knowledge) -> list[Work]:
    """What is to be done with the harvest of a batch: nothing where the household has no store, or it keeps in none."""
    state, places = know.states[id_], stores(know)
    rule = state.know.get("store")
    if rule is None or not places:
        return []
    work = [_use(state, lot, rule, know) for lot in lots_of(state, know)]
    bring = _bring_in(state, rule, places, know)
    return [job for job in [*work, bring] if job is not None and not job.let_go]


def _bring_in(state: BatchState, rule: dict[str, Any], places: list[str], know: Knowledge) -> Work | None:
    """Into the store once cured: of what was lifted or picked whole, and neither stored nor eaten since."""
    picked = [deed for deed, _ in state.deeds if deed.did == "pick" and not deed.believed]
    gone = any(deed.did == "use" or (deed.did in ("pick", STORE) and deed.to_place in places) for deed, _ in state.deeds)
    if not picked or gone or state.over_on is None or state.over_on - picked[-1].on > WITH_THE_LAST_DAYS:
        return None
    lifted, cure = picked[-1].on, rule["cure"] or 0
    if know.today > lifted + cure + ASKED_DAYS:
        return None
    many = harvest_words(state)
    work = Work(
        id=f"{state.id}.store",
        verb=STORE,
        title=f"Bring {many} into store",
        lead=len("Bring"),
        subject=state.variety_name,
        writes={"did": STORE, "batch": state.id, "to_place": places[0]},
        batch=state.id,
        place=places[0],
        minutes=MINUTES,
        hint=rule["how"],
    )
    why = f"picked {spoken(lifted)}" + (f", cured for {days_words(cure)}" if cure else "")
    work.lower.append((lifted + cure, why))
    work.aims.append((lifted + cure + BROUGHT_IN_DAYS[0], why))
    work.upper.append((lifted + cure + BROUGHT_IN_DAYS[1], why))
    work.notes.append(f"it keeps best at {rule['best']}")
    tells = {"did": STORE, "batch": state.id}
    work.ways = [
        way(f"into{at}", f"Into {know.ground.name(place)}", [tells | {"to_place": place}], asks="weight")
        for at, place in enumerate(places)
    ]
    work.ways.append(way("eaten", "Eaten or given away", [{"did": "use", "batch": state.id}]))
    work.let_go = know.let_go_on(work.id) is not None
    return work


def _use(state: BatchState, lot: Lot, rule: dict[str, Any], know: Knowledge) -> Work:
    """To be used from a third of the days that it keeps at best, since a house is no cold store."""
    name, many = know.ground.name(lot.place) or lot.place, harvest_words(state)
    writes = {"did": "use", "batch": state.id, "place": lot.place}
    work = Work(
        id=f"{state.id}.use.{lot.place}",
        verb="use",
        title=f"Use {many} from {name}",
        lead=len("Use"),
        subject=state.variety_name,
        writes=writes,
        batch=state.id,
        place=lot.place,
        minutes=USE_MINUTES,
        hint=rule["how"],
    )
    keeps = rule["keeps"]
    why = f"in store since {spoken(lot.since)}; {days_words(keeps)} at best, at {rule['best']}"
    work.lower.append((lot.since + keeps // 3, why))
    work.aims.append((lot.since + keeps // 2, why))
    work.upper.append((lot.ends, why))
    work.ways = [
        way("all", "All used", [writes]),
        way("some", "Some used", [writes], asks="weight"),
        way("bad", "What is left went bad", [writes | {"answer": "bad"}]),
    ]
    work.let_go = know.let_go_on(work.id) is not None
    return work
