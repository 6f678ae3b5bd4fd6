"""The data of the turning view cut down to some of its scenes, for a page that shows only these."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from drawleaf.book.output.turning import NAMELESS


def scenes_of(data: dict[str, Any], drawings: Collection[str]) -> dict[str, Any] | None:
    """The scenes of steps whose drawings are named, with the bodies, shapes and names that these show and no other; None where there is none.

    The whole piece is left out, and so are the steps at the saw, which show where each part goes: each joint could be measured there.
    """
    steps = [
        scene
        for scene in data["steps"]
        if scene["drawing"] in drawings and not any("lying" in one for one in scene["standing"])
    ]
    if not steps:
        return None
    steps = [scene | {"meetings": _met(scene)} for scene in steps]
    bodies = _numbered(number for scene in steps for number in _bodies(scene))
    shapes = _numbered(one["shape"] for scene in steps for one in scene["standing"])
    cuts = _numbered(
        code - NAMELESS - 1 for shape in shapes for _, code, _ in data["shapes"][shape][-1] if code > NAMELESS
    )
    items = {driven[0] for scene in steps for driven in scene["driven"]}
    return {
        "shapes": [_shape(data["shapes"][shape], cuts) for shape in shapes],
        "cuts": [data["cuts"][cut] for cut in cuts],
        "bodies": [data["bodies"][body] for body in bodies],
        "items": {item: name for item, name in data["items"].items() if item in items},
        "whole": None,
        "steps": [_scene(scene, bodies, shapes) for scene in steps],
        "openings": [],
    }


def _numbered(found: Any) -> dict[int, int]:
    """New numbers of those that stay, in their old order."""
    return {old: new for new, old in enumerate(sorted(set(found)))}


def _bodies(scene: dict[str, Any]) -> list[int]:
    own = [one["body"] for one in scene["standing"]]
    driven = [one[5] for one in scene["driven"]]
    return [*own, *driven, *(body for part, _, other, *_ in scene["meetings"] for body in (part, other))]


def _met(scene: dict[str, Any]) -> list[list[Any]]:
    """Without what meets a part that the scene does not show: its sizes stand on screens that are left out."""
    shown = {one["body"] for one in scene["standing"]}
    return [meeting for meeting in scene["meetings"] if {meeting[0], meeting[2]} <= shown]


def _shape(shape: list[Any], cuts: dict[int, int]) -> list[Any]:
    *geometry, surfaces = shape
    return [
        *geometry,
        [
            [triangles, code if code <= NAMELESS else NAMELESS + 1 + cuts[code - NAMELESS - 1], fresh]
            for triangles, code, fresh in surfaces
        ],
    ]


def _scene(scene: dict[str, Any], bodies: dict[int, int], shapes: dict[int, int]) -> dict[str, Any]:
    return scene | {
        "standing": [one | {"body": bodies[one["body"]], "shape": shapes[one["shape"]]} for one in scene["standing"]],
        "driven": [[*one[:5], bodies[one[5]], *one[6:]] for one in scene["driven"]],
        "meetings": [[bodies[part], face, bodies[other], *more] for part, face, other, *more in scene["meetings"]],
    }
