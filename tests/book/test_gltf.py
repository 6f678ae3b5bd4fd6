"""The glTF 2.0 file of a piece, read again by the standard's own rules; ``make bench`` asks the Khronos validator as well."""

from __future__ import annotations

import json
import struct

import numpy as np
import pytest
from tests.conftest import drawn, solids_of

from drawleaf.book.output.gltf import glb
from drawleaf.draw.turnable.turnable import turnable
from drawleaf.model.derived import Derived
from drawleaf.solids.build import Solids

TYPES = {5126: ("<f4", 4), 5123: ("<u2", 2), 5125: ("<u4", 4)}
WIDE = {"SCALAR": 1, "VEC3": 3}


@pytest.fixture(scope="module")
def piece() -> tuple[Derived, Solids, bytes]:
    derived, _ = drawn("key-ledge")
    solids = solids_of("key-ledge")
    return derived, solids, glb(derived, turnable(derived, solids, {}))


def chunks(data: bytes) -> tuple[dict, bytes]:
    """The tree and the buffer; fails where the container is not as the standard has it."""
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    found, at = [], 12
    while at < len(data):
        size, kind = struct.unpack_from("<I4s", data, at)
        assert size % 4 == 0
        found.append((kind, data[at + 8 : at + 8 + size]))
        at += 8 + size
    assert [kind for kind, _ in found] == [b"JSON", b"BIN\0"]
    return json.loads(found[0][1]), found[1][1]


def values(tree: dict, binary: bytes, number: int) -> np.ndarray:
    accessor = tree["accessors"][number]
    view = tree["bufferViews"][accessor["bufferView"]]
    kind, size = TYPES[accessor["componentType"]]
    wide = WIDE[accessor["type"]]
    assert view["byteOffset"] % size == 0
    assert view["byteLength"] == accessor["count"] * size * wide
    assert view["byteOffset"] + view["byteLength"] <= tree["buffers"][0]["byteLength"] <= len(binary)
    found = np.frombuffer(binary, kind, accessor["count"] * wide, view["byteOffset"])
    return found.reshape(-1, wide)


def test_it_is_a_whole_file(piece: tuple[Derived, Solids, bytes]) -> None:
    tree, binary = chunks(piece[2])
    assert tree["asset"]["version"] == "2.0"
    for mesh in tree["meshes"]:
        (primitive,) = mesh["primitives"]
        points = values(tree, binary, primitive["attributes"]["POSITION"])
        corners = values(tree, binary, primitive["indices"])
        said = tree["accessors"][primitive["attributes"]["POSITION"]]
        assert points.min(axis=0).tolist() == said["min"]
        assert points.max(axis=0).tolist() == said["max"]
        assert corners.max() < len(points)
        assert len(corners) % 3 == 0
        assert primitive["material"] < len(tree["materials"])
    assert sorted(tree["nodes"][tree["scenes"][0]["nodes"][0]]["children"]) == list(range(len(tree["nodes"]) - 1))


def test_each_part_stands_in_its_place_with_its_name_number_and_wood(piece: tuple[Derived, Solids, bytes]) -> None:
    """In metres, y upright: the corners of every part's box are where the piece has them."""
    derived, solids, data = piece
    tree, binary = chunks(data)
    nodes = {node["extras"]["id"]: node for node in tree["nodes"] if "extras" in node}
    turn = np.array(tree["nodes"][-1]["matrix"]).reshape(4, 4).T
    for item in derived.cut_list.items:
        for part in item.parts:
            node = nodes[part.id]
            assert node["name"] == f"{item.number} {part.name}"
            assert node["extras"]["number"] == item.number
            (primitive,) = tree["meshes"][node["mesh"]]["primitives"]
            assert tree["materials"][primitive["material"]]["name"] == part.stock.name
            points = values(tree, binary, primitive["attributes"]["POSITION"]) + np.array(node["translation"])
            there = np.column_stack([points, np.ones(len(points))]) @ turn.T
            low, high = solids.solid(part.id).bounds / 1000.0
            assert there[:, 0].min() == pytest.approx(low[0], abs=1e-4)
            assert there[:, 1].max() == pytest.approx(high[2], abs=1e-4)
            assert there[:, 2].min() == pytest.approx(-high[1], abs=1e-4)
    drawn_fittings = [one.id for one in derived.plan.fittings if solids.fitting(one.id) is not None]
    assert set(nodes) == {part.id for part in derived.plan.parts} | set(drawn_fittings)


def test_shapes_and_woods_stand_in_it_once(piece: tuple[Derived, Solids, bytes]) -> None:
    tree, _ = chunks(piece[2])
    assert len({json.dumps(one, sort_keys=True) for one in tree["meshes"]}) == len(tree["meshes"])
    names = [one["name"] for one in tree["materials"]]
    assert len(names) == len(set(names))
    assert len(tree["meshes"]) < len(tree["nodes"])
