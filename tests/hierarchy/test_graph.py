"""Depth, guests' walks and integration against networkx and published values."""

import networkx as nx
import pytest

from planner.hierarchy.graph import (
    diamond_value,
    guest_traffic,
    integration,
    passage_graph,
    relative_asymmetry,
    space_graph,
    spaces,
    walks,
)
from planner.house.model import House, Opening, Room
from tests.known import LIBRARY
from tests.random_houses import random_house


def sketch(*passages: tuple[str, str, str]) -> House:
    names = dict.fromkeys(name for a, b, _ in passages for name in (a, b))
    rooms = tuple(Room(name, "Ground", "hall", 120, 120, 96) for name in names)
    openings = tuple(Opening(f"D{i}", kind, a, b) for i, (a, b, kind) in enumerate(passages))
    return House("Sketch", (next(iter(names)),), rooms, openings)


@pytest.mark.parametrize(("k", "published"), [(5, 0.352), (6, 0.349), (10, 0.306), (20, 0.225)])
def test_diamond_values_are_the_published_ones(k, published):
    """Hillier and Hanson, The Social Logic of Space (1984), table of D(k), from memory."""
    assert diamond_value(k) == pytest.approx(published, abs=0.0006)


def test_a_bush_and_a_sequence_are_the_ends_of_the_scale():
    """Hillier and Hanson (1984): the root of a bush has RA 0, the end of a sequence RA 1."""
    bush = passage_graph(sketch(*(("Hall", f"R{i}", "door") for i in range(6))), LIBRARY)
    assert integration(bush)["Hall"].ra == pytest.approx(0)
    row = passage_graph(sketch(*((f"R{i}", f"R{i + 1}", "door") for i in range(6))), LIBRARY)
    assert integration(row)["R0"].ra == pytest.approx(1)
    assert relative_asymmetry(2.5, 5) == 1


@pytest.mark.parametrize("seed", range(12))
def test_mean_depth_is_what_networkx_calls_one_over_closeness(seed):
    graph = passage_graph(random_house(14, seed), LIBRARY)
    space = spaces(graph)
    closeness = nx.closeness_centrality(space_graph(graph, space))
    for room, found in integration(graph).items():
        assert found.mean_depth == pytest.approx(1 / closeness[space[room]])


@pytest.mark.parametrize("seed", range(12))
def test_depth_is_the_shortest_path_of_networkx(seed):
    graph = passage_graph(random_house(14, seed), LIBRARY)
    depth, before = walks(graph, "Room 0")
    assert depth == nx.single_source_dijkstra_path_length(graph, "Room 0", weight="depth")
    assert all(depth[before[room]] <= depth[room] for room in graph if before[room])


@pytest.mark.parametrize("seed", range(12))
def test_guest_traffic_is_the_betweenness_of_networkx(seed):
    graph = passage_graph(random_house(14, seed), LIBRARY)
    space = spaces(graph)
    guests = [f"Room {i}" for i in range(0, 14, 3)]
    start, goals = space["Room 0"], {space[room] for room in guests}
    expected = nx.betweenness_centrality_subset(space_graph(graph, space), [start], sorted(goals), normalized=False)
    found = guest_traffic(graph, "Room 0", guests)
    walked = len(goals - {start})
    for room in graph:
        if space[room] == start:
            assert found[room] == 1
        else:  # networkx halves an undirected pair
            assert found[room] == pytest.approx(2 * expected[space[room]] / max(1, walked))


def test_several_passages_between_one_pair_keep_the_widest():
    graph = passage_graph(sketch(("A", "B", "door"), ("B", "A", "cased opening"), ("A", "B", "pocket door")), LIBRARY)
    assert graph.edges["A", "B"]["kind"] == "cased opening"


def test_open_passages_make_one_space_and_stairs_a_step():
    graph = passage_graph(
        sketch(("Hall", "Kitchen", "door"), ("Kitchen", "Family", "open"), ("Hall", "Up", "stair")), LIBRARY
    )
    assert walks(graph, "Hall")[0] == {"Hall": 0, "Kitchen": 1, "Family": 1, "Up": 1}


def test_asymmetry_is_held_against_a_diamond_and_turned_over():
    """The end of a sequence of five has RA 1, so RRA is 1/D(5), from the table of D(k), and integration 1; the root of
    a bush has RA 0, so it has RRA 0 and no integration. D(k) tells nothing of four spaces and fewer."""
    row = integration(passage_graph(sketch(*((f"R{i}", f"R{i + 1}", "door") for i in range(4))), LIBRARY))
    assert (row["R0"].rra, row["R0"].integration) == (pytest.approx(1 / 0.352, abs=0.01), pytest.approx(1))
    assert row["R2"].ra == pytest.approx(1 / 3)  # mean depth 6/4, of five
    assert row["R2"].integration == pytest.approx(3)
    bush = integration(passage_graph(sketch(*(("Hall", f"R{i}", "door") for i in range(4))), LIBRARY))
    assert (bush["Hall"].rra, bush["Hall"].integration) == (0, None)
    four = integration(passage_graph(sketch(*((f"R{i}", f"R{i + 1}", "door") for i in range(3))), LIBRARY))
    assert (four["R0"].ra, four["R0"].rra) == (1, None)


def test_every_walk_starts_in_the_entry_even_where_there_is_none():
    graph = passage_graph(sketch(("Hall", "Parlor", "door"), ("Hall", "Kitchen", "door")), LIBRARY)
    assert guest_traffic(graph, "Hall", ()) == {"Hall": 1, "Parlor": 0, "Kitchen": 0}
    graph.add_node("Vault")
    assert guest_traffic(graph, "Hall", ("Parlor", "Vault")) == {"Hall": 1, "Parlor": 0, "Kitchen": 0, "Vault": 0}


def test_a_door_to_nowhere_is_no_passage():
    house = sketch(("Hall", "Parlor", "door"), ("Hall", "", "door"))
    assert set(passage_graph(house, LIBRARY)["Hall"]) == {"Parlor"}


def test_of_ways_as_deep_the_one_through_fewer_rooms_is_taken():
    """Through one open room or three: no step deeper, and longer."""
    ways = [("Hall", "A", "open"), ("A", "B", "open"), ("B", "C", "open"), ("C", "End", "door")]
    graph = passage_graph(sketch(*ways, ("Hall", "Short", "open"), ("Short", "End", "door")), LIBRARY)
    depth, before = walks(graph, "Hall")
    assert (depth["End"], before["End"]) == (1, "Short")
