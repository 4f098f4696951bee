"""Plants to come: what is to be ordered, or rooted from cuttings, so long before it is planted."""

from __future__ import annotations

from server.kernel.follow.knowledge import Knowledge
from server.kernel.read.batch_state import BatchState
from server.kernel.read.bought import CUTTINGS
from server.kernel.read.words import plants_words
from server.kernel.when.work import Work

ORDER_DAYS = (70, 42, 14)
"""Days before planting from which plants may, should and must be ordered. From memory: nurseries sell out."""
ROOT_DAYS = (112, 84, 56)
"""And cuttings be taken: eight to twelve weeks until they are rooted. From memory."""
MINUTES = 10


def order_work(state: BatchState, planting: Work, know: Knowledge) -> list[Work]:
    """The one job that comes before planting, until it is told. planting: with its own days."""
    cuts = state.fields.get("begins") == CUTTINGS
    verb = "divide" if cuts else "order"
    days = [day for day, _ in planting.aims or planting.lower]
    if planting.verb != "plant_out" or not days or any(deed.did == verb for deed, _ in state.deeds):
        return []
    job, plants = f"{state.id}.{'take' if cuts else verb}", plants_words(state.know, state.want)
    raised = state.know["steps"][0]["verb"] == "sow"
    work = Work(
        id=job,
        verb=verb,
        title=f"Take cuttings for {plants}" if cuts else f"Order {plants}{' as plants' if raised else ''}",
        lead=len("Take cuttings" if cuts else "Order"),
        subject=state.variety_name,
        writes={"did": verb, "batch": state.id},
        batch=state.id,
        count=None,
        minutes=MINUTES,
    )
    why = f"so long before planting: {'until they are rooted' if cuts else 'nurseries sell out, and send when it suits them'}"
    first, aim, last = (max(days) - before for before in (ROOT_DAYS if cuts else ORDER_DAYS))
    work.lower.append((first, why))
    work.aims.append((aim, why))
    work.upper.append((last, why))
    work.let_go = know.let_go_on(job) is not None
    return [work]
