"""The piece as a binary glTF 2.0 file (Khronos; ISO/IEC 12113), for programs that show or light solids.

Each shape stands in it once, and each part as a node with its name, number, size and material. Lengths are metres and y is upright, as glTF has it:
one node above all turns and scales the piece, whose own frame has millimetres and z upright.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from drawleaf import __version__
from drawleaf.draw.piece.shown import METAL, tints
from drawleaf.model.colors import light, rgb
from drawleaf.model.derived import Derived
from drawleaf.model.turnable import Shape, Turnable

MAGIC, VERSION = b"glTF", 2
JSON_CHUNK, BINARY_CHUNK = b"JSON", b"BIN\0"
FLOAT, SHORT, INT = 5126, 5123, 5125
"""Types of numbers, by the codes of glTF: 32-bit floats, unsigned 16-bit and 32-bit."""
POINTS, INDICES = 34962, 34963
"""What a stretch of the buffer is for."""
_UPRIGHT = [0.001, 0, 0, 0, 0, 0, -0.001, 0, 0, 0.001, 0, 0, 0, 0, 0, 1]
"""Column by column: x stays, z goes to y, y to minus z, millimetres become metres."""


@dataclass(slots=True)
class _Buffer:
    """What is written so far, and what says where each stretch of it is."""

    data: bytearray = field(default_factory=bytearray)
    views: list[dict[str, Any]] = field(default_factory=list)
    accessors: list[dict[str, Any]] = field(default_factory=list)

    def add(self, values: np.ndarray, kind: int, target: int, more: Mapping[str, Any]) -> int:
        """The number of an accessor to these values."""
        self.data += bytes(-len(self.data) % 4)
        written = values.tobytes()
        self.views.append({"buffer": 0, "byteOffset": len(self.data), "byteLength": len(written), "target": target})
        self.data += written
        self.accessors.append({"bufferView": len(self.views) - 1, "componentType": kind, "count": len(values), **more})
        return len(self.accessors) - 1


def glb(derived: Derived, turnable: Turnable) -> bytes:
    """The whole piece, its parts and bought items each in place."""
    plan = derived.plan
    parts, fittings = {part.id: part for part in plan.parts}, {one.id: one for one in plan.fittings}
    colors = tints(plan)
    buffer = _Buffer()
    used = sorted({one.shape for one in turnable.whole.standing})
    shapes = {number: _primitive(turnable.shapes[number], buffer) for number in used}
    materials: dict[tuple[str, str], int] = {}
    meshes: dict[tuple[int, int], int] = {}
    nodes: list[dict[str, Any]] = []
    for one in turnable.whole.standing:
        part, fitting = parts.get(one.id), fittings.get(one.id)
        if part is not None:
            item = derived.cut_list.item_of(part.id)
            name, look = f"{item.number} {part.name}", (part.stock.name, colors[part.id])
            size = [round(side.mm, 3) for side in (item.length, item.width, item.thickness)]
            extras: dict[str, Any] = {"id": part.id, "number": item.number, "size_mm": size}
        else:
            assert fitting is not None
            name, look = fitting.item.name, ("Metal", METAL)
            extras = {"id": fitting.id}
        material = materials.setdefault(look, len(materials))
        mesh = meshes.setdefault((one.shape, material), len(meshes))
        nodes.append({"name": name, "mesh": mesh, "translation": list(one.at), "extras": extras})
    whole = {"name": plan.about.title, "matrix": _UPRIGHT, "children": list(range(len(nodes)))}
    tree = {
        "asset": {"version": "2.0", "generator": f"drawleaf {__version__}", **_rights(plan.about.copyright)},
        "scene": 0,
        "scenes": [{"nodes": [len(nodes)]}],
        "nodes": [*nodes, whole],
        "meshes": [{"primitives": [{**shapes[shape], "material": material}]} for shape, material in meshes],
        "materials": [_material(name, color) for name, color in materials],
        "accessors": buffer.accessors,
        "bufferViews": buffer.views,
        "buffers": [{"byteLength": len(buffer.data) + -len(buffer.data) % 4}],
    }
    return _packed(tree, bytes(buffer.data))


def _rights(words: str) -> dict[str, str]:
    return {"copyright": words} if words else {}


def _primitive(shape: Shape, buffer: _Buffer) -> dict[str, Any]:
    """A primitive of triangles; who shows it works out flat normals, as none are given."""
    steps = np.frombuffer(shape.points, "<u2").reshape(-1, 3)
    points = (np.array(shape.low) + steps * np.array(shape.grain)).astype("<f4")
    wide = len(points) > 65535
    corners = np.frombuffer(shape.corners, "<u4" if len(points) > 65536 else "<u2")
    low, high = (end.astype(float).tolist() for end in (points.min(axis=0), points.max(axis=0)))
    place = buffer.add(points, FLOAT, POINTS, {"type": "VEC3", "min": low, "max": high})
    indices = buffer.add(corners.astype("<u4" if wide else "<u2"), INT if wide else SHORT, INDICES, {"type": "SCALAR"})
    return {"attributes": {"POSITION": place}, "indices": indices}


def _material(name: str, color: str) -> dict[str, Any]:
    """A dull surface of that colour; glTF asks for its light, not for the sRGB numbers of ``#rrggbb``."""
    channels = [round(light(channel), 5) for channel in rgb(color)]
    rough = {"baseColorFactor": [*channels, 1], "metallicFactor": 0, "roughnessFactor": 0.8}
    return {"name": name, "pbrMetallicRoughness": rough}


def _packed(tree: Mapping[str, Any], binary: bytes) -> bytes:
    text = json.dumps(tree, ensure_ascii=False, separators=(",", ":")).encode()
    chunks = [(JSON_CHUNK, text + b" " * (-len(text) % 4)), (BINARY_CHUNK, binary + bytes(-len(binary) % 4))]
    body = b"".join(struct.pack("<I", len(data)) + kind + data for kind, data in chunks)
    return MAGIC + struct.pack("<II", VERSION, 12 + len(body)) + body
