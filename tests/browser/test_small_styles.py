"""Styles travel small and mean the same: the browser reads the same rules of what is served as of what is written."""

from __future__ import annotations

from importlib.resources import files

import pytest
from playwright.sync_api import Browser

from server.handlers.small_scripts import small
from tests.kernel.browser_kernel import kernel_page

WEB = files("web").joinpath("styles")
SHEETS = {
    part.name: part.read_text(encoding="utf-8")
    for folder in (WEB, WEB.joinpath("components"))
    for part in folder.iterdir()
    if part.name.endswith(".css")
}
RULES = """(texts) => texts.map((text) => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(text);
  // values with a variable in them are kept letter for letter, line ends and all
  const even = (block) => block.replace(/\\s+/g, " ").replace(/ ?([(),:;]) ?/g, "$1");
  const bare = (told) => told.replace(/\\{[^{}]*\\}/g, even);
  return [...sheet.cssRules].map((rule) => bare(rule.cssText.replaceAll(" *:", " :")));
})"""


def test_what_is_served_has_the_rules_that_were_written(browser: Browser) -> None:
    """As the browser's own CSSOM tells them, each sheet in a layer as it is served."""
    written = [f"@layer one {{\n{text}\n}}" for text in SHEETS.values()]
    served = [small("/styles/one.css", text.encode()).decode() for text in written]
    with kernel_page(browser) as page:
        as_written, as_served = page.evaluate(RULES, written), page.evaluate(RULES, served)
    for name, one, other in zip(SHEETS, as_written, as_served, strict=True):
        assert one == other, name
    assert sum(map(len, as_written)) >= len(SHEETS) - 2


@pytest.mark.parametrize("selector", ["[a] :hover", ".a :is(.b, .c)", ":root :focus-visible", "* :hover", ".a:is(.b) :hover"])
def test_a_descendant_stays_one_inside_a_layer(selector: str) -> None:
    made = small("/styles/one.css", f"@layer one {{ .x {{ color: red; }}\n{selector} {{ color: red; }} }}".encode()).decode()
    assert selector.replace(" :", " *:").replace(", ", ",") in made
