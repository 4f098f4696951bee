"""The vectors: readable cases with their answers, asked of both halves, records shuffled."""

from __future__ import annotations

import json
import random
from typing import Any

import pytest
from playwright.sync_api import Browser

from server.kernel.days import in_season, iso
from server.kernel.merge import merge_record, visible
from server.kernel.settle import settle
from server.kernel.stamps import Reading, hear, tick, write
from tests.kernel.browser_kernel import ask, kernel_page
from tests.write_vectors import DEVICE, FOLDER, brief, stale

SHUFFLES = 4
RULEBOOK = json.loads((FOLDER / "rulebook.json").read_text(encoding="utf-8"))
AREAS = sorted(path.stem for path in FOLDER.glob("*.json") if path.stem != "rulebook")
CASES = [(area, case) for area in AREAS for case in json.loads((FOLDER / f"{area}.json").read_text(encoding="utf-8"))]
ids = [f"{area}: {case['name']}" for area, case in CASES]


def asked(case: dict[str, Any], shuffle: int) -> dict[str, Any]:
    """The case as a question, what may come in any order shuffled."""
    question = {name: value for name, value in case.items() if name not in ("expect", "says", "name", "visible")}
    chance = random.Random(shuffle)
    for name in ("records", "changes"):
        if shuffle and name in question:
            question[name] = chance.sample(question[name], len(question[name]))
    return question | ({"rulebook": RULEBOOK} if case["door"] == "settle" else {})


def shown(case: dict[str, Any], answer: Any) -> Any:
    """The part of an answer that a vector holds."""
    return [brief(job) for job in answer] if case["door"] == "settle" else answer


def python_answer(question: dict[str, Any]) -> Any:
    door = question["door"]
    if door == "settle":
        return settle(question["rulebook"], question["records"], question["today"])
    if door == "merge":
        record = None
        for change in question["changes"]:
            record = merge_record(record, change)
        return record
    if door == "tick":
        return write(tick(Reading(**question["last"]), question["now"]), DEVICE)
    if door == "hear":
        return write(hear(Reading(**question["last"]), Reading(**question["heard"]), question["now"]), DEVICE)
    return iso(in_season(question["text"], question["year"]))


def test_vectors_are_what_the_kernel_says_today() -> None:
    assert stale() == [], "run: python -m tests.write_vectors, and read what changed"


@pytest.mark.parametrize(("area", "case"), CASES, ids=ids)
def test_python_half(area: str, case: dict[str, Any]) -> None:
    for shuffle in range(SHUFFLES):
        answer = python_answer(asked(case, shuffle))
        assert shown(case, answer) == case["expect"], case["says"]
    if "visible" in case:
        assert visible(case["expect"]) is case["visible"]


@pytest.mark.browser
def test_browser_half(browser: Browser) -> None:
    questions = [(case, asked(case, shuffle)) for _, case in CASES for shuffle in range(SHUFFLES)]
    with kernel_page(browser) as page:
        answers = ask(page, [question for _, question in questions])
        seen = ask(page, [{"door": "visible", "record": case["expect"]} for _, case in CASES if "visible" in case])
    for (case, _), answer in zip(questions, answers, strict=True):
        assert shown(case, answer) == case["expect"], f"{case['name']}: {case['says']}"
    assert seen == [case["visible"] for _, case in CASES if "visible" in case]
