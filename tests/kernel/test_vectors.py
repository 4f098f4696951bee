"""The vectors: readable cases with their answers, asked of both halves, records shuffled."""

from __future__ import annotations

import json
import random
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.kernel.browser_kernel import ask, kernel_page
from tests.kernel.python_kernel import answer
from tests.write_vectors import FOLDER, NEEDS_RULEBOOK, shown, stale

SHUFFLES = 4
RULEBOOK = json.loads((FOLDER / "rulebook.json").read_text(encoding="utf-8"))
CASES = [
    pytest.param(case, id=f"{path.stem}: {case['name']}")
    for path in sorted(FOLDER.glob("*.json"))
    if path.stem != "rulebook"
    for case in json.loads(path.read_text(encoding="utf-8"))
]


def questions(case: dict[str, Any]) -> list[dict[str, Any]]:
    """The case as a question, several times, what may come in any order shuffled."""
    asked = {name: value for name, value in case.items() if name not in ("expect", "says", "name")}
    if case["door"] in NEEDS_RULEBOOK:
        asked["rulebook"] = RULEBOOK
    loose = [name for name in ("records", "changes") if name in asked]
    made = [asked]
    for seed in range(1, SHUFFLES if loose else 1):
        chance = random.Random(seed)
        made.append(asked | {name: chance.sample(asked[name], len(asked[name])) for name in loose})
    return made


def test_vectors_are_what_the_kernel_says_today() -> None:
    assert stale() == [], "run: python -m tests.write_vectors, and read what changed"


@pytest.mark.parametrize("case", CASES)
def test_python_half(case: dict[str, Any]) -> None:
    for question in questions(case):
        assert shown(case["door"], answer(question)) == case["expect"], case["says"]


@pytest.mark.browser
def test_browser_half(browser: Browser) -> None:
    asked = [(param.values[0], question) for param in CASES for question in questions(param.values[0])]  # type: ignore[attr-defined]
    with kernel_page(browser) as page:
        answers = ask(page, [question for _, question in asked])
    for (case, _), theirs in zip(asked, answers, strict=True):
        assert shown(case["door"], theirs) == case["expect"], f"{case['name']}: {case['says']}"
