"""Needs: what a step takes for so many plants."""

from __future__ import annotations

from typing import Any

from server.kernel.read.words import litres

LABELS = {"what": "labels", "amount": 1, "unit": ""}
"""To a batch, with its first step. Source: common practice, one to each lot that is sown or planted."""
SETTLING_PER_MILLE = 1150
"""Compost settles: 15 % over the pot's litres. Source: container volume tables, 15 to 20 %."""


def needs_of(step: dict[str, Any], count: int | None, finishing: float | None, stems: int | None) -> list[dict[str, Any]]:
    """What, how much and in which unit; of what goes by plants nothing where nobody counts.

    finishing: litres of the pots they end in, if any. stems: of each plant, where the household has decided.
    """
    needs = [
        {"what": need["what"], "amount": _amount(need, count, stems), "unit": need.get("unit") or ""}
        for need in step.get("needs") or []
        if count is not None or need.get("once")
    ]
    if count is None:
        return needs
    if finishing is not None:
        tenths = int(finishing * 10 + 0.5)
        needs.append({"what": f"{litres(finishing)}\u00a0L pots", "amount": count, "unit": ""})
        needs.append({"what": "compost", "amount": -(-count * tenths * SETTLING_PER_MILLE // 10000), "unit": "L"})
    return needs


def _amount(need: dict[str, Any], count: int | None, stems: int | None) -> int:
    """Whole units of a need for so many plants: it is told in tenths or, where these would round it up, in thousandths
    too, for every so many plants, of so many stems; or once for all of them."""
    if count is None or need.get("once"):
        return int(-(-need["each"] // 10))
    each, whole = (need["thousandths"], 1000) if "thousandths" in need else (need["each"], 10)
    parts: int = each * -(-count // (need.get("per") or 1))
    if need.get("stems") and stems:
        parts = -(-parts * stems // need["stems"])
    return -(-parts // whole)
