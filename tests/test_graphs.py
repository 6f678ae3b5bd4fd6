"""Graphs against networkx, which is too slow to import for every check but is right."""

from __future__ import annotations

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drawleaf.graphs import connected, cut_points, is_connected, order_and_cycles, topological

LINKS = st.lists(st.tuples(st.integers(0, 11), st.integers(0, 11)), max_size=16)


@settings(max_examples=100, deadline=None)
@given(LINKS, st.permutations(range(10)))
def test_components_are_those_of_networkx_in_the_order_given(links, keys):
    """Links to 10 and 11, which are no keys, join nothing."""
    graph = nx.Graph()
    graph.add_nodes_from(keys)
    graph.add_edges_from(link for link in links if max(link) < 10)
    found = connected(keys, links)
    assert {frozenset(one) for one in found} == {frozenset(one) for one in nx.connected_components(graph)}
    assert [one[0] for one in found] == sorted((one[0] for one in found), key=keys.index)
    assert all(list(one) == sorted(one, key=keys.index) for one in found)
    assert is_connected(keys, links) == nx.is_connected(graph)


@settings(max_examples=300, deadline=None)
@given(LINKS, st.integers(0, 10))
def test_a_cut_point_is_a_key_without_which_the_rest_falls_apart(links, count):
    """Of a graph in one piece or in several; links to numbers that are no keys join nothing."""
    neighbours: dict[int, set[int]] = {key: set() for key in range(12)}
    for one, other in links:
        neighbours[one].add(other)
        neighbours[other].add(one)
    graph = nx.Graph((key, one) for key in range(count) for one in neighbours[key] if one < count and one != key)
    graph.add_nodes_from(range(count))

    def falls_apart(key: int) -> bool:
        rest = graph.subgraph(set(graph) - {key})
        return len(rest) > 0 and not nx.is_connected(rest)

    assert cut_points(range(count), neighbours) == {key for key in range(count) if falls_apart(key)}


@settings(max_examples=100, deadline=None)
@given(LINKS)
def test_order_is_the_lexicographical_one_of_networkx(links):
    """Highest number first where there is a choice."""
    after = {key: [min(link) for link in links if max(link) == key] for key in range(12)}
    graph = nx.DiGraph()
    graph.add_nodes_from(range(12))
    graph.add_edges_from((min(link), max(link)) for link in links if min(link) != max(link))
    order = topological(range(12), after, lambda key: (-key,))
    assert order == tuple(nx.lexicographical_topological_sort(graph, key=lambda key: -key))


@settings(max_examples=100, deadline=None)
@given(LINKS)
def test_cycles_are_cycles_and_the_rest_is_in_order(links):
    needs = {key: [other for one, other in links if one == key] for key in range(10)}
    order, cycles = order_and_cycles(needs)
    rings = [key for cycle in cycles for key in cycle]
    assert sorted([*order, *rings]) == list(range(10)), "each once"
    for cycle in cycles:
        assert all(after in needs[one] for one, after in zip(cycle, [*cycle[1:], cycle[0]], strict=True))
    for place, key in enumerate(order):
        assert {need for need in needs[key] if need in order} <= set(order[:place])


def test_nothing_is_connected():
    assert connected([], []) == []
    assert is_connected([], [])


def test_what_waits_for_itself_in_a_cycle_raises():
    with pytest.raises(ValueError, match="cycle"):
        topological("ab", {"a": ["b"], "b": ["a"]}, lambda key: (key,))
