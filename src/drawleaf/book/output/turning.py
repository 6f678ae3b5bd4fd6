"""The turning view of the tablet edition: bodies and scenes as data within the page, and the scripts that show them.

It is put into the page when that is set: whatever templates an author has, its data, style and scripts are ours. Nothing of it stands in
the page where the library is missing that shows solids (``scripts/fetch-browser-library`` fetches it); the flat drawings are all there without it.
"""

from __future__ import annotations

import base64
import json
from collections.abc import Mapping, Sequence
from functools import cache
from html import escape
from typing import Any

from drawleaf.draw.picture.lay import face_name
from drawleaf.draw.piece.shown import METAL, tints
from drawleaf.english import capitalized
from drawleaf.model.derived import Derived
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Plan
from drawleaf.model.turnable import Opening, Shape, Standing, Stock, Turnable, Turning
from drawleaf.resources import MissingDataError, product_folder

LIBRARY = "three-used.js"
"""What is used of three.js, with its licence in it."""
LIBRARY_ID = "turning-library"
"""Where it stands in the page as text, until the reader turns the first picture."""
SCRIPTS = ("shapes.js", "rest.js", "stage.js", "motion.js", "labels.js", "panel.js", "whole.js", "view.js", "turn.js")
"""Ours, in the order in which they run; in ``templates/js/turn``."""
DATA_ID = "turnable"
FACES = tuple(Face)
"""Surfaces are numbered: the six faces, what has no name, then the cuts."""
NAMELESS = len(FACES)


def with_turning(html: str, derived: Derived, turnable: Turnable) -> str:
    """The page with the turning view in it; the page as it is where the library is missing, or an author's frame has no head or body."""
    library = library_text()
    head, neck, rest = html.partition("</head>")
    body, foot, end = rest.rpartition("</body>")
    if library is None or not neck or not foot:
        return html
    data = json.dumps(turning_data(derived, turnable), ensure_ascii=False, separators=(",", ":"))
    # A name of the author's must not end the element that it stands in.
    data = data.replace("<", "\\u003c")
    about = {
        "drawings": " ".join(one.drawing for one in (turnable.whole, *turnable.steps)),
        "whole": turnable.whole.drawing,
        "sheets": json.dumps(_layouts(derived, turnable), ensure_ascii=False, separators=(",", ":")),
    }
    told = "".join(f' data-{name}="{escape(value)}"' for name, value in about.items())
    style = f"<style>{_own_text('css', 'turn.css')}</style>\n"
    block = f'<script type="application/json" id="{DATA_ID}"{told}>{data}</script>\n'
    held = f'<script type="text/plain" id="{LIBRARY_ID}">{library}</script>\n'
    scripts = "".join(f"<script>{text}</script>\n" for text in own_scripts())
    return f"{head}{style}</head>{body}{block}{held}{scripts}</body>{end}"


@cache
def library_text() -> str | None:
    """The library as it stands in the page; None where it was never fetched."""
    try:
        file = product_folder("browser") / LIBRARY
    except MissingDataError:
        return None
    return file.read_text(encoding="utf-8") if file.is_file() else None


@cache
def own_scripts() -> tuple[str, ...]:
    """Our scripts of the turning view, each as it stands in the page."""
    return tuple(_own_text("js", "turn", name) for name in SCRIPTS)


def _own_text(*names: str) -> str:
    return product_folder("templates").joinpath(*names).read_text(encoding="utf-8")


def turning_data(derived: Derived, turnable: Turnable) -> dict[str, Any]:
    """All of it as JSON has it. Bodies are named once and numbered; lengths are millimetres of the piece's frame."""
    plan = derived.plan
    scenes = (turnable.whole, *turnable.steps)
    ids = dict.fromkeys(one.id for scene in scenes for one in scene.standing)
    ids |= dict.fromkeys(one.through for scene in scenes for one in scene.driven)
    ids |= dict.fromkeys(one.other for scene in scenes for one in scene.meetings)
    numbers = {an_id: number for number, an_id in enumerate(ids)}
    cuts = dict.fromkeys(surface.cut for shape in turnable.shapes for surface in shape.surfaces if surface.cut)
    codes = {cut: NAMELESS + 1 + place for place, cut in enumerate(cuts)}
    return {
        "shapes": [_shape(shape, codes) for shape in turnable.shapes],
        "cuts": [capitalized(plan.words.put(cut)) for cut in cuts],
        "bodies": _bodies(derived, numbers, scenes),
        "items": _items(plan, scenes),
        "whole": _scene(turnable.whole, numbers),
        "steps": [_scene(scene, numbers) for scene in turnable.steps],
        "openings": [_opening(plan, one, numbers) for one in turnable.openings],
    }


def _shape(shape: Shape, codes: Mapping[str, int]) -> list[Any]:
    surfaces = [
        [
            one.triangles,
            FACES.index(one.face) if one.face is not None else codes.get(one.cut, NAMELESS),
            int(one.fresh),
        ]
        for one in shape.surfaces
    ]
    written = (base64.b64encode(data).decode() for data in (shape.points, shape.corners, shape.edges))
    lean = [[round(value, 9) for value in row] for row in shape.lean] if shape.lean is not None else None
    return [list(shape.low), list(shape.grain), *written, lean, surfaces]


def _bodies(derived: Derived, numbers: Mapping[str, int], scenes: Sequence[Turning]) -> list[dict[str, Any]]:
    plan, colors = derived.plan, tints(derived.plan)
    parts, fittings = {part.id: part for part in plan.parts}, {one.id: one for one in plan.fittings}
    stocks = {stock.id: stock for scene in scenes for stock in scene.stocks}
    found: list[dict[str, Any]] = []
    for an_id in numbers:
        part = parts.get(an_id)
        if an_id in stocks:
            found.append(_stock(plan, stocks[an_id]))
            continue
        if part is None:
            fitting = fittings.get(an_id)
            found.append({"id": an_id, "name": fitting.item.name if fitting else "", "tint": METAL})
            continue
        item = derived.cut_list.item_of(an_id)
        sides = (item.length, item.width, item.thickness)
        found.append(
            {
                "id": an_id,
                "number": item.number,
                "name": part.name,
                "size": " × ".join(plan.lengths.text(side) for side in sides),
                "sides": [plan.lengths.text(part.body.extent(axis)) for axis in Axis],
                "stock": part.stock.name,
                "tint": colors[an_id],
                "faces": [capitalized(plan.words.put(face_name(part, face))) for face in FACES],
            }
        )
    return found


def _stock(plan: Plan, stock: Stock) -> dict[str, Any]:
    """A sheet or board is no part: it has a name and a size, and no number of the cut list."""
    size = " × ".join(plan.lengths.text(side) for side in stock.sides)
    return {"id": stock.id, "name": f"{stock.kind} {stock.number}", "size": size, "stock": stock.name, "tint": METAL}


def _items(plan: Plan, scenes: Sequence[Turning]) -> dict[str, str]:
    wanted = {one.item for scene in scenes for one in scene.driven}
    hardware = plan.catalogue.hardware
    return {item: hardware[item].name for item in sorted(wanted) if item in hardware}


def _scene(scene: Turning, numbers: Mapping[str, int]) -> dict[str, Any]:
    return {
        "drawing": scene.drawing,
        "step": scene.step,
        "axes": [[round(value, 6) for value in row] for row in scene.axes],
        "up": list(scene.up),
        "factor": scene.factor,
        "origin": list(scene.origin),
        "standing": [_standing(one, numbers) for one in scene.standing],
        "driven": [
            [one.item, _short(one.at), list(one.direction), round(one.length, 2), round(one.thick, 2), numbers[one.through],
             round(one.sunk, 2), int(one.head)]
            for one in scene.driven
        ],
        "pressing": [[_short(one.at), list(one.toward), _short(one.off)] for one in scene.pressing],
        "brings": int(scene.brings),
        "meetings": [
            [numbers[one.part], _face(one.face), numbers[one.other], _face(one.onto), int(one.into)] for one in scene.meetings
        ],
    }  # fmt: skip


def _face(face: Face | None) -> int | None:
    return None if face is None else FACES.index(face)


def _standing(one: Standing, numbers: Mapping[str, int]) -> dict[str, Any]:
    found: dict[str, Any] = {"body": numbers[one.id], "shape": one.shape, "at": _short(one.at)}
    if one.new:
        found["new"] = 1
    if any(one.off):
        found["off"] = _short(one.off)
    if one.turn is not None:
        found["turn"] = one.turn
    if one.axes is not None:
        found |= {"axes": [[round(value, 6) for value in row] for row in one.axes], "paper": list(one.on_paper)}
    if one.strip is not None:
        found["strip"] = one.strip
    if one.lying is not None:
        lying = one.lying
        found["lying"] = {
            "shape": lying.shape,
            "axes": [[round(value, 6) for value in row] for row in lying.axes],
            "at": _short(lying.middle),
            "about": _short(lying.about),
            "stock": numbers[lying.stock],
        }
    return found


def _opening(plan: Plan, one: Opening, numbers: Mapping[str, int]) -> dict[str, Any]:
    names = {assembly.id: assembly.name for assembly in plan.assemblies} | {part.id: part.name for part in plan.parts}
    bodies = [numbers[body] for body in one.bodies if body in numbers]
    first = next((part.name for part in plan.parts if part.id in one.bodies), one.id)
    return {
        "name": first if one.loose else names.get(one.id, first),
        "loose": int(one.loose),
        "bodies": bodies,
        "axis": list(one.axis),
        "reach": one.reach,
        "about": list(one.about) if one.about is not None else None,
    }


def _layouts(derived: Derived, turnable: Turnable) -> dict[str, list[list[Any]]]:
    """By drawing, each piece: its box on paper, its part, and what that is called."""
    names = {part.id: f"{item.number} {part.name}" for item in derived.cut_list.items for part in item.parts}
    return {
        one.drawing: [[*(round(side, 2) for side in box), part, names[part]] for box, part in one.pieces]
        for one in turnable.layouts
        if one.pieces
    }


def _short(values: Sequence[float]) -> list[float]:
    return [round(value, 3) + 0.0 for value in values]
