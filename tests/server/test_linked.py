"""Linked files: each module once, the same by its own address, and a map that leads back to the source as written."""

from __future__ import annotations

import json

import pytest
from starlette.testclient import TestClient

from server.handlers.linked import Module, handed_on, in_order, link, link_styles
from server.handlers.shell_files import FIRST, LATER, ROOMS, LinkedFile, read_shell
from tests.server.test_small_scripts import places

SOURCES = {
    "/a/main.js": """// starts
import { one as first, Two } from "./b.js";
import { three } from "../c.js";
export const SUM = first() + three;
const later = () => import("./room.js");
later();
""",
    "/a/b.js": """import { three } from "../c.js";
/** One. */
export async function one() { return three; }
export class Two {}
export function* four() { yield 4; }
""",
    "/c.js": "export const three = 3;\n",
}


def test_each_module_comes_after_what_it_imports_and_once() -> None:
    assert in_order(SOURCES, ["/a/main.js"]) == ["/c.js", "/a/b.js", "/a/main.js"]
    assert in_order(SOURCES, ["/a/main.js"], ["/c.js"]) == ["/a/b.js", "/a/main.js"]
    with pytest.raises(ValueError, match=r"/x[.]js imports itself by way of /y[.]js"):
        in_order({"/x.js": 'import { y } from "./y.js";', "/y.js": 'import { x } from "./x.js";'}, ["/x.js"])


def test_modules_of_one_file_take_from_each_other_and_from_files_before() -> None:
    known: dict[str, Module] = {}
    made, _ = link("/1.js", ["/c.js"], SOURCES, known)
    assert made == "const $_c=(()=>{\nconst three=3;\nreturn{three}})();\nexport{$_c};"
    made, parts = link("/2.js", ["/a/b.js", "/a/main.js"], SOURCES, known)
    assert made.startswith('import{$_c}from"/1.js";\nconst $_a_b=(()=>{\nconst{three}=$_c;')
    assert "const{one:first,Two}=$_a_b;" in made and 'import("/a/room.js")' in made and made.endswith("export{$_a_b,$_a_main};")
    assert known["/a/b.js"].exports == ("one", "Two", "four")
    assert handed_on(known["/a/b.js"]) == 'import{$_a_b}from"/2.js";export const{one,Two,four}=$_a_b;'
    for part in parts:
        lines = made.split("\n")[part.line :]
        assert "\n".join(lines).startswith(part.made)


def test_a_module_has_its_name_for_good_and_two_never_the_same() -> None:
    """A page that took one file from an older server finds no module in it under the name of another."""
    known: dict[str, Module] = {}
    link("/1.js", ["/c.js"], SOURCES, known)
    link("/2.js", ["/a/b.js"], SOURCES, known)
    assert [module.name for module in known.values()] == ["$_c", "$_a_b"]
    with pytest.raises(ValueError, match=r"/a-b[.]js: another module is called [$]_a_b too"):
        link("/3.js", ["/a-b.js"], {"/a-b.js": "export const five = 5;"}, known)


@pytest.mark.parametrize(
    "line",
    [
        'import all from "./b.js";',
        'import * as all from "./b.js";',
        "export default 3;",
        "export { a };",
        "export let a = 1;",
        "const b = [import(`./b.js`)];",
    ],
)
def test_what_cannot_be_linked_is_never_served(line: str) -> None:
    with pytest.raises(ValueError, match=r"no import .*that can be linked"):
        link("/1.js", ["/x.js"], {"/x.js": f"const a = 1;\n{line}\n"}, {})


def test_styles_stand_in_their_layers_in_the_order_of_their_imports() -> None:
    sources = {"/s/all.css": '@layer x, y;\n@import url("one.css") layer(y);\n', "/s/one.css": "a { color: red; }"}
    text, taken = link_styles("/s/all.css", sources)
    assert text == "@layer x, y;\n@layer y {\na { color: red; }\n}\n" and taken == ["/s/one.css"]
    with pytest.raises(ValueError, match="no layer"):
        link_styles("/s/all.css", {"/s/all.css": '@import url("one.css");'})


@pytest.mark.parametrize("url", [FIRST, LATER, ROOMS])
def test_every_stretch_of_a_linked_file_is_found_in_its_sources(client: TestClient, url: str) -> None:
    """An index map of ECMA-426: sections in order, each with its offset and a map of its own."""
    answer = client.get(url)
    assert answer.headers["sourcemap"] == f"{url}.map"
    lines = answer.text.split("\n")
    told = client.get(f"{url}.map").json()
    offsets = [(section["offset"]["line"], section["offset"]["column"]) for section in told["sections"]]
    assert told["version"] == 3 and offsets == sorted(offsets) and len(offsets) > 20
    for section in told["sections"]:
        source = section["map"]["sourcesContent"][0].split("\n")
        for made_line, made_column, line, column in places(section["map"]):
            letter = lines[section["offset"]["line"] + made_line][made_column : made_column + 1]
            if not source[line].startswith("import "):  # what is taken from another module stands there otherwise
                there = source[line][column : column + 1]
                assert letter == there or "import(" in source[line] or (letter in ("", " ") and there in ("", " ")), section[
                    "map"
                ]["file"]


def test_no_module_travels_twice() -> None:
    shell = read_shell(None, False)
    linked = [file for file in shell.files.values() if isinstance(file, LinkedFile)]
    urls = [part.url for file in linked for part in file.parts]
    assert len(urls) == len(set(urls)) and {file.url for file in linked} == {FIRST, LATER, ROOMS}
    for url in urls:
        assert len(shell.files[url].body) < 1500 and b"function" not in shell.files[url].body
    listed = json.loads(shell.worker.body.decode().split("const SHELL=")[1].split(";")[0])
    assert {FIRST, LATER, ROOMS} <= {url for url, _ in listed["files"]}
