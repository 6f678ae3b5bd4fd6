"""Slips that a likeness of spelling does not find: the word of another trade or another kind of line, a value without its keys.

``MEANT`` says by model and key what to write instead, ``WORDS`` for a word among a few; ``EXAMPLES`` what a value of a key looks like where it holds keys or a list.
"""

from __future__ import annotations

_SIZES = "A part's size is “wide” along x, “deep” along y and “high” along z."
_FACES = "Place a part by its faces: “left” or “right”, “front” or “back”, “bottom” or “top”."
_COPIES = "Copies are “repeat: {along: x, count: 3, spacing: 5}”; a twin is “mirror: {x: width / 2}”."
_WITH = "What holds a joint is listed in “with: [glue, screws]”."
_ITEM = "Name a fastener, “item: wood screw 8 x 1-1/4”, or leave it out and it is chosen."
_LIKE = "What takes the keys of another is “like: side”, with what is different beside it."
_AT = "A place is “at: {x: 3, z: 1-1/2}”."
_HEAD = "It belongs under “plan:”, two spaces further in."
_INSIDE = (
    "Parts and joints are listed in an assembly: “assemblies:”, below it a name such as “case:”, below that “parts:”."
)
_IN = "Name the part with “in”."

MEANT: dict[str, dict[str, str]] = {
    "PlanSource": {
        **dict.fromkeys(("title", "number", "date", "author", "lengths", "units", "revision"), _HEAD),
        **dict.fromkeys(("parts", "joints", "machining", "hardware"), _INSIDE),
        **dict.fromkeys(("materials", "material", "wood", "boards"), "What you buy is listed under “stock:”."),
        **dict.fromkeys(
            ("tools", "tool_set", "kit"), "It is “tools:” and belongs under “shop:”, two spaces further in."
        ),
    },
    "PlanHead": {
        "name": "The name on the cover is “title”.",
        "version": "A revision's mark is “revision”.",
        "unit": "What you write in is “lengths: in”, what is printed “units”.",
        **dict.fromkeys(("tools", "tool_set", "kit"), "It is “tools:” and belongs under “shop:”."),
    },
    "FinishProductEntry": {
        "recoat_hours": "Write it with its unit: “recoat: 12 h”.",
        "cure_hours": "Write it with its unit: “cure: 7 days”.",
    },
    "ConsumableEntry": {
        "open_minutes": "Write it with its unit: “open: 5 min”.",
        "clamp_hours": "Write it with its unit: “clamp: 1 h”.",
        "load_hours": "Write it with its unit: “load: 12 h”.",
    },
    "StockEntry": {
        **dict.fromkeys(
            ("thickness", "thick"),
            "A sheet's thickness as the label says it is “nominal”, as your caliper says it “actual”; a board has its “size: 1x4”.",
        ),
        **dict.fromkeys(("wood", "species", "type", "kind"), "What it is made of is “material”."),
        "length": "Boards are bought in the lengths that the layouts ask for: leave it out.",
    },
    "AssemblyEntry": {
        **dict.fromkeys(("ironmongery", "bought"), "Bought hardware is listed under “hardware:”."),
        "holes": "Holes are listed under “machining:”, each with “bore”.",
        "stock": "Stocks are listed at the top of the plan, under “stock:”.",
        **dict.fromkeys(("same_as", "copy_of", "copy", "extends", "base", "template", "clone"), _LIKE),
        **dict.fromkeys(
            ("left", "front", "bottom", "x", "y", "z"), "An assembly is placed with “at: {x: 0, y: 0, z: 4}”."
        ),
    },
    "PartEntry": {
        **dict.fromkeys(("width", "length", "height", "depth", "long", "tall", "w", "h", "l", "d"), _SIZES),
        **dict.fromkeys(("x", "y", "z", "at", "position"), _FACES),
        **dict.fromkeys(("count", "qty", "quantity", "number", "copies"), _COPIES),
        **dict.fromkeys(
            ("material", "wood", "board", "size"), "What it is cut from is “stock”, a name from “stock:” above."
        ),
        **dict.fromkeys(("angle", "tilt", "rotate"), "A part leans with “lean: {right: 8 deg}”."),
        **dict.fromkeys(("same_as", "copy_of", "copy", "extends", "base", "template", "clone"), _LIKE),
        "axis": "Its thickness runs along “thickness: x”, its grain along “grain: z”.",
    },
    "JointEntry": {
        **dict.fromkeys(("glue", "screws", "pocket_screws", "brads", "dowels", "pegs", "fasteners"), _WITH),
        **dict.fromkeys(("type", "kind", "joint", "parts"), "The kind is a key of its own: “butt: shelf, to: side”."),
        **dict.fromkeys(("into", "on_to", "and", "between"), "What receives it is written after “in” or “to”."),
        "nails": "Nails are “brads”, in “with: [glue, brads]”.",
        "width": "How far a part is let in is “depth”; how wide the channel is follows from its thickness.",
    },
    "Fastening": {"nails": "Nails are “brads”.", "bolts": "Bolts are hardware: write them under “hardware:”."},
    "ScrewOptions": {
        **dict.fromkeys(("length", "size", "gauge", "type", "screw"), _ITEM),
        **dict.fromkeys(
            ("pitch", "centres", "centers", "on_center", "oc", "step", "apart"), "How far apart is “spacing”."
        ),
        **dict.fromkeys(("edge", "inset", "margin"), "How far from the ends is “end_distance”."),
        **dict.fromkeys(("qty", "quantity", "number"), "How many is “count”."),
        **dict.fromkeys(("from", "into", "side"), "The part that they go through first is “through”."),
    },
    "FittingEntry": {
        **dict.fromkeys(("type", "hardware", "kind"), "The item is named after “item”."),
        **dict.fromkeys(("part", "in", "to"), "What it sits on is written after “on”."),
        **dict.fromkeys(("x", "y", "z", "position"), _AT),
        **dict.fromkeys(("qty", "quantity", "number"), "How many is “count”; a row of them “repeat”."),
    },
    "RepeatEntry": dict.fromkeys(
        ("every", "step", "centres", "centers", "on_center", "oc", "apart"), "How far apart is “spacing”."
    ),
    "MachiningEntry": {
        **dict.fromkeys(("hole", "drill", "holes"), "A hole is “bore: {face: top, at: {x: 3, y: 2}, diameter: 1/2}”."),
        **dict.fromkeys(("part", "on", "to"), _IN),
        **dict.fromkeys(
            ("dado", "groove", "rabbet"), "A channel for another part is a joint: write it under “joints:”."
        ),
        **dict.fromkeys(
            ("edges", "face", "at", "size", "diameter"), "Put it inside the work: “bore: {face: top, ...}”."
        ),
    },
    "BoreEntry": {
        **dict.fromkeys(("size", "dia", "width", "radius"), "The width of a hole is written after “diameter”."),
        **dict.fromkeys(("x", "y", "z"), _AT),
        "count": "A row of holes is “repeat: {along: x, count: 3, spacing: 2}”.",
    },
    "EdgeEntry": {
        "edge": "Edges are a list: “edges: [front-top]”.",
        **dict.fromkeys(("radius", "width", "depth"), "Its size is written after “size”."),
    },
    "FinishEntry": {
        **dict.fromkeys(("product", "finish", "use", "oil", "paint"), "A product is written after “apply”."),
        **dict.fromkeys(("grit", "grits"), "Grits are written after “sand”: “sand: [120, 180]”."),
        **dict.fromkeys(("on", "parts", "part"), "What it goes on is written after “to”."),
    },
    "NoteEntry": {
        **dict.fromkeys(("note", "words", "tip"), "The words are written after “text”."),
        **dict.fromkeys(("image", "photo", "photograph"), "A photo is a “picture”."),
        **dict.fromkeys(("on", "for"), "A note hangs on a “part”, a “step” or a “chapter”."),
    },
    "EditionEntry": {
        "lengths": "What an edition prints is “units”; what you write in is the same in all.",
        "name": "Its name is the word before the colon; the cover prints “title” and “subtitle”.",
    },
}

WORDS: dict[str, str] = {
    **dict.fromkeys(("nails", "nail", "pins", "staples"), "brads"),
    **dict.fromkeys(("inch", "inches", "imperial", '"'), "in"),
    **dict.fromkeys(("metric", "millimetre", "millimetres", "millimeters", "cm"), "mm"),
    **dict.fromkeys(("width", "horizontal", "sideways"), "x"),
    **dict.fromkeys(("depth",), "y"),
    **dict.fromkeys(("height", "vertical", "upright"), "z"),
    **dict.fromkeys(("easy", "novice", "none"), "beginner"),
    **dict.fromkeys(("hard", "advanced", "expert"), "experienced"),
    "up": "top",
    "down": "bottom",
    "rear": "back",
    "us letter": "letter",
}
"""Words that mean one of those that are allowed in a place."""

EXAMPLES: dict[str, str] = {
    "mirror": "{x: width / 2}",
    "repeat": "{along: x, count: 3, spacing: 5}",
    "at": "{x: 3, z: 1-1/2}",
    "around": "{x: 0, y: 0, count: 3}",
    "glue_up": "{widest_strip: 3}",
    "section": "{round: yes}",
    "lean": "{right: 8 deg}",
    "level_ends": "{bottom: 0}",
    "stopped": "{front: 1/2}",
    "offset": "{front: 1/4}",
    "spline": "{thickness: 1/8, depth: 3/8}",
    "rows": "{bottom: 1-3/4, top: 1}",
    "with": "[glue, screws]",
    "edges": "[front-top]",
    "sand": "[120, 180]",
    "corner": "[front, bottom]",
    "bore": "{face: top, at: {x: 3, y: 2}, diameter: 1/2}",
    "finger_hole": "{face: top, at: {x: 3, y: 2}, diameter: 1-1/4}",
    "round_over": "{edges: [front-top], size: 1/4}",
    "chamfer": "{edges: [front-top], size: 1/4}",
    "cove": "{edges: [front-top], size: 3/8}",
    "ogee": "{edges: [front-top], size: 3/8}",
    "bead": "{edges: [front-top], size: 1/4}",
    "notch": "{corner: [back, bottom], deep: 3/4, high: 3}",
    "angle_cut": "{face: left, angle: 15 deg, toward: front}",
    "taper": "{edge: back, toward: top, start: 8, narrow_by: 1}",
    "recess": "{face: right, at: {y: 2, z: 6}, deep: 1, high: 3, depth: 1/8}",
    "shelf_pins": "{face: right, rows: {front: 2, back: 2}, start: 6, spacing: 1-1/4, count: 9}",
    "loads": "[{on: case.shelf, load: books}]",
    "waive": "[{check: screws, reason: The holes are drilled first.}]",
    "shop": "{kerf: 1/8, tools: full shop}",
    "humidity": "[35, 65]",
    "without": "[plinth]",
}
