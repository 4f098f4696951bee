"""Everybody can use it: axe at level AA, targets for gloves, large text, three schemes, and a strict policy."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from importlib.resources import files

import pytest
from axe_playwright_python.base import AXE_SCRIPT

from tests.browser.phones import Phone
from tests.browser.serving import LiveServer
from tests.cases import sampled

ROOMS = ["round", "job/batch.2031.cucumber.plant_out", "job/batch.2031.pepper.pot_up_2", "put-off/batch.2031.beetroot.thin",
         "jot", "jot/pick/batch.2031.carrot_early", "jot/look/batch.2031.tomato", "jot/measure", "ground", "place/place.tunnel",
         "batch/batch.2031.tomato", "form/batch/new", "form/site/site", "season", "diary", "shed", "varieties",
         "plan/crop=tomato", "plan/mode=growing", "begin", "readings/place.tunnel", "crops", "crop/tomato", "own-crop",
         "upkeep", "upkeep/lime", "place/place.cellar",
         "place/place.tunnel.bed2", "place/place.long_house.bench", "fullness", "takes", "vessels", "layout/place.tunnel",
         "again/place.tunnel", "form/vessel/new", "plan/crop=tomato/place=place.tunnel.bed3",
         "seed-list", "year", "year/tomato", "successions/lettuce"]  # fmt: skip
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
AXE = """async (options) => {
  const {violations} = await axe.run(options);
  return JSON.stringify(violations.map(({id, nodes}) => [id, nodes.slice(0, 3).map(({html}) => html.slice(0, 120))]));
}"""
"""What is wrong, and no more: all that is right would be more than a megabyte a room."""
PALE = """() => {
  const words = Object.assign(document.createElement("p"), {id: "pale", textContent: "hardly to be read"});
  Object.assign(words.style, {color: "#777", background: "#888"});
  document.querySelector("main").append(words);
}"""
SMALL = """() => {
  const found = [];
  for (const e of document.querySelectorAll("button, a, input, select, textarea, label.line")) {
    const r = e.getBoundingClientRect();
    if (!r.width || e.classList.contains("unseen") || getComputedStyle(e).visibility === "hidden") continue;
    const tick = e.matches(".lab:not(.done) .well:not(.split), .half");
    const box = e.type === "checkbox" ? e.closest("label").getBoundingClientRect() : r;
    const least = tick ? 72 : 48;
    if (box.height < least - 0.5 || box.width < 48 - 0.5) {
      const words = (e.textContent || e.ariaLabel || "").trim().slice(0, 30);
      found.push(`${e.tagName} ${e.className} ${words} ${box.width}x${box.height}`);
    }
  }
  const walker = document.createTreeWalker(document.querySelector("#app"), NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const parent = walker.currentNode.parentElement;
    if (!walker.currentNode.data.trim() || parent.closest("svg, .unseen")) continue;
    const size = parseFloat(getComputedStyle(parent).fontSize);
    if (size < 15) found.push(`small text ${walker.currentNode.data.trim().slice(0, 30)}`);
  }
  const page = document.documentElement;
  if (page.scrollWidth > page.clientWidth) found.push(`wider than the screen by ${page.scrollWidth - page.clientWidth}`);
  return found;
}"""


@pytest.mark.parametrize("scheme", ["day", "sun", "dusk"])
def test_axe_finds_nothing_at_level_aa(server: LiveServer, phones: Callable[..., Phone], scheme: str) -> None:
    phone = phones(server.url, bypass_csp=True)
    phone.context.add_init_script(f"localStorage.setItem('mudproof.scheme', '{scheme}')")
    phone.open().settled()
    phone.page.evaluate(AXE_SCRIPT)
    # what stands where is the same in every scheme: the others are asked about their colours alone
    only = {"type": "tag", "values": TAGS} if scheme == "day" else {"type": "rule", "values": ["color-contrast"]}
    options = {"runOnly": only, "resultTypes": ["violations"], "selectors": False}
    phone.page.evaluate(PALE)
    assert [rule for rule, _ in json.loads(phone.page.evaluate(AXE, options))] == ["color-contrast"], "what is wrong is found"
    phone.page.evaluate("() => document.querySelector('#pale').remove()")
    # colours are named once for all rooms, so sun and dusk share half the rooms between them, and all at night
    for room in ROOMS if scheme == "day" else sampled(ROOMS[(scheme == "dusk") :: 2], 2):
        phone.go(room)
        phone.page.wait_for_timeout(120)
        problems = json.loads(phone.page.evaluate(AXE, options))
        assert not problems, (room, scheme, problems)


BROKEN = """() => {
  const found = [];
  const walker = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode;
    if (node.parentElement.closest("svg, .unseen, textarea, select, [hidden]")) continue;
    for (const {0: word, index} of node.data.matchAll(/[\\p{L}\\p{N}]+/gu)) {
      const range = document.createRange();
      range.setStart(node, index);
      range.setEnd(node, index + word.length);
      const tops = new Set([...range.getClientRects()].filter((box) => box.width > 1).map((box) => Math.round(box.top)));
      if (tops.size > 1) found.push(word);
    }
  }
  return found;
}"""
HEAD_IN_SIGHT = """() => {
  const head = [...document.querySelectorAll("main h1")].find((one) => one.getBoundingClientRect().width > 2);
  if (!head) return true;
  const range = document.createRange();
  range.selectNodeContents(head);
  const [first] = range.getClientRects();
  return head.contains(document.elementFromPoint(first.left + 3, first.top + first.height / 2));
}"""


SMALL_PHONE = {"width": 360, "height": 640}
TEXT_AT = "(size) => { document.documentElement.style.fontSize = size; }"
OVER = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"


@pytest.mark.only_looks
@pytest.mark.every_size
def test_targets_are_big_enough_and_text_at_twice_its_size_is_all_there(thumb: Phone) -> None:
    """At twice its size no title is covered, no word is broken and nothing is wider than the screen."""
    page = thumb.page
    # what is narrow is narrowest on the smallest phone; on a usual one every third room by day, and all at night
    for room in ROOMS if page.viewport_size == SMALL_PHONE else sampled(ROOMS, 3):
        page.evaluate(TEXT_AT, "200%")
        thumb.go(room)
        page.wait_for_timeout(100)
        assert page.evaluate(BROKEN) == [], room
        assert page.evaluate(HEAD_IN_SIGHT), room
        wide = page.evaluate(OVER)
        assert wide <= 0, (room, wide)
        page.evaluate(TEXT_AT, "")
        assert page.evaluate(SMALL) == [], room


def contrast(one: str, other: str) -> float:
    """WCAG 2.2 contrast ratio of two colours."""

    def light(colour: str) -> float:
        parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((light(one), light(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


PAIRS = [("ink", "label", 7), ("ink", "staging", 7), ("ink", "well", 7), ("ink-soft", "label", 7), ("ink-soft", "staging", 7),
         ("ink-soft", "well", 7), ("clay", "label", 7), ("clay", "staging", 7), ("enamel-ink", "enamel", 7),
         ("press-ink", "press", 7), ("soil-ink", "soil", 7), ("ink", "caution-face", 7), ("label-edge", "label", 3),
         ("label-edge", "staging", 3), ("rule", "label", 3), ("ink", "stage-ground", 3)]  # fmt: skip


@pytest.mark.parametrize("scheme", ["day", "sun", "dusk"])
def test_every_ink_reads_on_its_ground(scheme: str) -> None:
    """WCAG 2.2, SC 1.4.6 (text 7:1) and 1.4.11 (drawn lines 3:1)."""
    css = files("web").joinpath("styles", "tokens.css").read_text(encoding="utf-8")
    block = css[css.index(f':root[data-scheme="{scheme}"]') :].split("}")[0]
    colours = dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6})", block))
    for ink, ground, least in PAIRS:
        assert contrast(colours[ink], colours[ground]) >= least, (scheme, ink, ground)


@pytest.mark.only_looks
def test_policy_refuses_markup_from_strings(phone: Phone) -> None:
    refused = phone.page.evaluate(
        "() => { try { document.createElement('p').innerHTML = '<b>x</b>'; } catch (error) { return error.name; } return ''; }"
    )
    assert refused == "TypeError"
