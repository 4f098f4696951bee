"""The two passes against a published worked example and an independent longest-path reference."""

from __future__ import annotations

import networkx
from hypothesis import given
from hypothesis import strategies as st

from server.kernel.when.backward import backward
from server.kernel.when.forward import forward, in_order
from server.kernel.when.heat import Heat
from server.kernel.when.work import Link, Work

NO_HEAT = Heat({})


def job(name: str, days: int = 0, after: list[str] | None = None, by: int | None = None) -> Work:
    """Work that can follow others once each of them has taken its days. Day numbers are counted from 0."""
    work = Work(id=name, verb="note", title=name, lead=1, subject="", writes={})
    work.minutes = days
    if by is not None:
        work.upper.append((by, "the end"))
    work.links = [Link(on=before, min=0, aim=0, text=before) for before in after or []]
    return work


def with_durations(work: list[Work]) -> list[Work]:
    """Gaps are between starts here, so a link's least gap is how long the earlier job takes."""
    takes = {w.id: w.minutes for w in work}
    for w in work:
        for link in w.links:
            link.min = link.aim = takes[link.on]
    return work


def test_house_building_example_gives_the_published_start_and_float() -> None:
    """Critical path of Levy, Thompson & Wiest, "The ABCs of the Critical Path Method", Harvard Business Review
    41(5), 1963: building a house, jobs a to x; the published project takes 34 days and its critical path is
    a-b-c-d-j-k-l-n-t-s-x. Times and predecessors as printed in the article's table (from memory, checked by the
    published total and path)."""
    table = {
        "a": (0, []), "b": (4, ["a"]), "c": (2, ["b"]), "d": (4, ["c"]), "e": (6, ["d"]), "f": (1, ["c"]),
        "g": (2, ["f"]), "h": (3, ["f"]), "i": (2, ["d"]), "j": (4, ["d", "g"]), "k": (10, ["i", "j", "h"]),
        "l": (3, ["k"]), "m": (1, ["l"]), "n": (2, ["l"]), "o": (3, ["l"]), "p": (2, ["e"]), "q": (1, ["p"]),
        "r": (1, ["c"]), "s": (2, ["o", "t"]), "t": (3, ["m", "n"]), "u": (1, ["t"]), "v": (2, ["q", "r"]),
        "w": (5, ["v"]), "x": (0, ["s", "u", "w"]),
    }  # fmt: skip
    work = with_durations([job(name, days, after) for name, (days, after) in table.items()])
    ordered = in_order(work)
    forward(ordered, NO_HEAT, 0)
    end = {w.id: w for w in ordered}["x"]
    assert end.start == 34
    end.firm_by = end.by = 34
    backward(ordered)
    critical = {w.id for w in ordered if w.by == w.start}
    assert critical == set("abcdjklntsx")


@st.composite
def networks(draw: st.DrawFn) -> list[tuple[int, list[tuple[int, int]]]]:
    """A random acyclic network: for each node its own earliest day, and (earlier node, gap) pairs."""
    size = draw(st.integers(1, 12))
    nodes = []
    for index in range(size):
        before = draw(st.lists(st.integers(0, index - 1), unique=True, max_size=3)) if index else []
        nodes.append((draw(st.integers(0, 40)), [(other, draw(st.integers(0, 20))) for other in before]))
    return nodes


@given(networks(), st.integers(0, 300))
def test_passes_agree_with_longest_paths_of_networkx(nodes: list[tuple[int, list[tuple[int, int]]]], slack: int) -> None:
    work, graph = [], networkx.DiGraph()
    for index, (own, before) in enumerate(nodes):
        one = job(f"n{index:02d}")
        one.lower.append((own, "own"))
        one.links = [Link(on=f"n{other:02d}", min=days, aim=days) for other, days in before]
        work.append(one)
        graph.add_edge("start", one.id, weight=own)
        for other, days in before:
            graph.add_edge(f"n{other:02d}", one.id, weight=days)
    ordered = in_order(work)
    forward(ordered, NO_HEAT, 0)
    longest: dict[str, int] = {"start": 0}
    for node in networkx.topological_sort(graph):
        for after in graph.successors(node):
            longest[after] = max(longest.get(after, 0), longest[node] + graph.edges[node, after]["weight"])
    assert {w.id: w.start for w in ordered} == {key: value for key, value in longest.items() if key != "start"}

    end = max(longest.values()) + slack
    leaves = [w for w in ordered if graph.out_degree(w.id) == 0]
    for leaf in leaves:
        leaf.firm_by = leaf.by = end
    backward(ordered)
    for w in ordered:
        tails = [networkx.dag_longest_path_length(graph.subgraph({w.id} | set(networkx.descendants(graph, w.id))))]
        assert w.by == end - max(tails)


def test_a_circle_is_broken_at_the_same_place_in_any_order() -> None:
    def circle() -> list[Work]:
        return [job("a", after=["c"]), job("b", after=["a"]), job("c", after=["b"])]

    def broken(work: list[Work]) -> set[tuple[str, str]]:
        ordered = in_order(work)
        forward(ordered, NO_HEAT, 0)
        return {(w.id, link.on) for w in ordered for link in w.links if link.broken}

    assert broken(circle()) == broken(list(reversed(circle())))
    assert len(broken(circle())) == 1


def test_what_must_be_done_by_some_day_pulls_what_it_waits_on() -> None:
    last = job("plant", after=["clear"], by=30)
    last.links[0].min, last.links[0].path = 0, False
    work = [job("clear"), last]
    ordered = in_order(work)
    forward(ordered, NO_HEAT, 10)
    backward(ordered)
    clear = {w.id: w for w in ordered}["clear"]
    assert clear.by == 30
    assert "plant waits on this" in clear.by_why
