"""Words that every object of the browser's language is born with, as kinds, ids, fields, verbs, troubles and crops."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from tests.kernel.browser_kernel import ask, kernel_page
from tests.kernel.python_kernel import answer
from tests.kernel.small import Told, holding, rulebook

BORN = ("constructor", "valueof", "tostring", "hasownproperty", "then", "__proto__", "toString", "hasOwnProperty", "valueOf")
"""Those that the server takes as names, and those it does not: a copy of another phone's may hold them all the same."""
TODAY = "2031-05-19"


def household(word: str) -> Told:
    """Everything that a household may name, named so."""
    told = holding()
    told.add("batch", "b1", variety="v.bell", year=2031, want=6, for_place="glass.bed1", **{word: 3})
    told.add("diary", "d1", did="sow", batch="b1", count=9, on="2031-02-10", to_place="prop", note=word)
    told.add("diary", "d2", did="look", batch="b1", found=word, level="many", on="2031-05-18")
    told.add("diary", "d3", did=word, batch="b1", place="glass", on=TODAY)
    told.add("diary", "d4", did="move", batch=word, place=word, to_place=word, fixture=word, count=1, on=TODAY)
    told.add("diary", "d5", did="treat", batch="b1", found=word, on=TODAY, level=word, condition=word)
    told.add("variety", "v.odd", name=word, crop=word)
    told.add("batch", word, variety="v.odd", year=2031, want=2, for_place=word, follows=word, near=word)
    told.add("fixture", "f.odd", name=word, sort=word, place="glass", in_way_of=[word], up=True)
    told.add("place", "p.odd", name=word, sort=word, cover=word, within=word)
    told.add("job", "j.odd", title=word, hand=True, place=word, batch=word, waits_on=[word], **{"for": word})
    told.add(word, "k.odd", name=word)
    return told


@pytest.mark.parametrize("door", ["settle", "stand", "resting"])
def test_both_halves_take_them_for_words(browser: Browser, door: str) -> None:
    questions = [{"door": door, "rulebook": rulebook(), "records": household(word).records, "today": TODAY} for word in BORN]
    with kernel_page(browser) as page:
        theirs = ask(page, questions)
    for question, their in zip(questions, theirs, strict=True):
        assert their == answer(question)
    assert door != "settle" or all(any(job["state"] == "ready" for job in their) for their in theirs)


def test_both_halves_merge_them_alike(browser: Browser) -> None:
    cases = []
    for word in BORN:
        older, newer = (f"{ms:012x}-0000-aaaaaaaa" for ms in (1, 2))
        mine = {"id": "b1", "kind": "batch", "stamp": older, "fields": {"want": 1, word: 1}}
        change = {"id": "b1", "kind": "batch", "stamp": newer, "fields": {word: 2}}
        cases.append({"door": "merge", "changes": [mine, change]})
    with kernel_page(browser) as page:
        theirs = ask(page, cases)
    for case, their in zip(cases, theirs, strict=True):
        assert their == answer(case)
