"""Codes of machining, hardware in its place, finish and notes."""

from __future__ import annotations

from drawleaf.model.code import Code, Example, slip

_KNOB = "{item: knob, on: rail, face: front, at: {x: 10, z: height - 3/8}}"
_ROUND = "{in: rail, round_over: {edges: [front-bottom], size: 1/8}}"
_SLIDES = "{item: side-mount slides 12 in, on: [case.side, case.side.mirrored], carries: drawer, at: {y: 1/8, z: 4}}"

CODES = (
    Code(
        "machining-kind",
        "An entry of the machining names no kind of work, or more than one.",
        "One key says what is done.",
        "Write one of those that the message lists.",
        slip(_ROUND, "{in: rail}"),
    ),
    Code(
        "machining-target",
        "Machining is asked for on an assembly.",
        "Work is done on one part at a time.",
        "Name the part.",
        slip("{in: rail, round_over", "{in: crate, round_over"),
    ),
    Code(
        "place-incomplete",
        "A place on a face lacks one of its two coordinates.",
        "A face leaves two axes open.",
        "Add the one that the message names.",
        slip("at: {x: 5, y: 5}, diameter", "at: {x: 5}, diameter"),
    ),
    Code(
        "hole-off-part",
        "A hole runs over the edge of its part.",
        "The bit would break out, and the hole hold nothing.",
        "Move it, make it smaller, or set fewer in the row.",
        slip("at: {x: 5, y: 5}, diameter", "at: {x: 1, y: 5}, diameter"),
    ),
    Code(
        "row-off-face",
        "A row of holes is measured from a face that is not beside it.",
        "It is measured from an edge of the face that it is in.",
        "Measure it from one of those that the message names.",
        slip("rows: {front: 2}", "rows: {left: 2}"),
    ),
    Code(
        "no-such-corner",
        "The two faces of a corner do not meet.",
        "Opposite faces have no corner.",
        "Name two faces that meet: corner: [front, bottom].",
        slip(_ROUND, _ROUND + "\n      - {in: floor, notch: {corner: [front, back], deep: 1, wide: 1}}"),
    ),
    Code(
        "notch-size",
        "A notch lacks a size, or is larger than its part.",
        "It is given along both axes that it cuts across.",
        "Give both sizes, each less than the part's.",
        slip(_ROUND, _ROUND + "\n      - {in: floor, notch: {corner: [front, left], deep: 30, wide: 1}}"),
    ),
    Code(
        "no-such-edge",
        "A part has no edge of that name.",
        "An edge is where two faces meet.",
        "Write front-top, left-bottom, back-right and so on.",
        slip("edges: [front-bottom]", "edges: [front-botom]"),
    ),
    Code(
        "edge-size",
        "A round-over or chamfer is larger than its edge.",
        "Nothing would be left of the face beside it.",
        "Make it smaller.",
        slip("edges: [front-bottom], size: 1/8", "edges: [front-bottom], size: 1"),
    ),
    Code(
        "unknown-hardware",
        "There is no such hardware.",
        "Hardware is in the shared folder: ours, and yours beside your plans.",
        "Take the nearest that the message names, or add it to your own shared folder.",
        slip("item: knob", "item: knbo"),
    ),
    Code(
        "hardware-without-place",
        "A piece of hardware does not say where it sits.",
        "It sits at a place on a face of a part.",
        "Write face: front, at: {x: 3, z: 1-1/2}.",
        slip(_KNOB, "{item: knob, on: rail, at: {x: 10, z: height - 3/8}}"),
    ),
    Code(
        "hardware-off-part",
        "A piece of hardware sits beside its part.",
        "Its screws would go into the air.",
        "Give it a place on the face; the message says from where to where that runs.",
        slip("z: height - 3/8}", "z: height + 3/8}"),
    ),
    Code(
        "hardware-buried",
        "Another part stands where a piece of hardware sits.",
        "Both cannot be in one place.",
        "Move it, or mount it on another face.",
        slip(_KNOB, "{item: knob, on: floor, face: right, at: {y: 4, z: 1-3/8}}"),
    ),
    Code(
        "several-parts",
        "“backing” names more than one part.",
        "The screws of a piece of hardware go into one.",
        "Name one of them.",
        slip(_KNOB, "{item: anti-tip strap, on: back, face: back, at: {x: 10, z: 1-3/8}, backing: crate}"),
    ),
    Code(
        "not-behind",
        "The part that “backing” names does not lie behind the hardware.",
        "Its screws would miss it.",
        "Move the hardware with “at”, or name the part that does.",
        slip(_KNOB, "{item: anti-tip strap, on: back, face: back, at: {x: 10, z: 6}, backing: floor}"),
    ),
    Code(
        "thin-hold",
        "A part is too thin to hold the screw of a strap.",
        "The strap must hold when somebody climbs the piece, and a screw pulls straight out of a thin panel.",
        "Let the screw go through it into what lies behind: backing: back_rail.",
        slip(_KNOB, "{item: anti-tip strap, on: back, face: back, at: {x: 10, z: 6}}"),
    ),
    Code(
        "shelf-without-pins",
        "A shelf on pins has no holes for them at its height.",
        "A shelf lies half a pin above the middle of the holes.",
        "Move the shelf, or the rows.",
        slip(_KNOB, "{item: shelf pin 1/4, on: floor}"),
    ),
    Code(
        "hardware-without-body",
        "Slides have no body in the shared folder.",
        "Without their size nobody knows whether they fit.",
        "Give them a “body” in shared/hardware.",
        Example(
            "item: side-mount slides 12 in",
            "item: thin slides",
            "chest",
            {
                "shared/hardware/thin.yaml": "thin slides:\n  name: thin slides\n  kind: slides\n  length: 12 in\n"
                "  plural: pairs of thin slides\n  per_pack: 1\n  pack: pair\n  aisle: Cabinet hardware\n"
            },
        ),
    ),
    Code(
        "slides-drawer",
        "Nothing says which drawer a pair of slides carries.",
        "One half sits on the case, the other on the drawer.",
        "Add carries: drawer.",
        slip("carries: drawer, ", "", sample="chest"),
    ),
    Code(
        "slides-sides",
        "Slides are not on two parts.",
        "They run in pairs, one to each side.",
        "Write on: [left part, right part].",
        slip("on: [case.side, case.side.mirrored]", "on: case.side.mirrored", sample="chest"),
    ),
    Code(
        "slides-beside",
        "There is no side of the drawer opposite a slide.",
        "Slides sit at one height on the fixed part and on the drawer's side.",
        "Give “z” a height within the drawer's sides.",
        slip("z: 4}}", "z: 7-1/2}}", sample="chest"),
    ),
    Code(
        "slides-clearance",
        "The room between the drawer and the case does not suit the slides.",
        "Side-mount slides need a certain gap on each side; with less the drawer jams, with more it falls out.",
        "Make the drawer wider or narrower by what the message says.",
        slip("wide: 14, deep", "wide: 13-3/4, deep", sample="chest"),
    ),
    Code(
        "slides-too-long",
        "Slides run beyond the end of the part that they are on.",
        "The last screws would go into the air.",
        "Take shorter slides, or move them.",
        slip("at: {y: 1/8, z: 4}}", "at: {y: 5, z: 4}}", sample="chest"),
    ),
    Code(
        "finish-kind",
        "A line of the finish neither sands nor applies anything, or does both.",
        "Each line is one thing to do.",
        "Write sand: [120, 150] or apply: danish oil.",
        slip("{sand: [120, 180], to: all}", "{to: all}"),
    ),
    Code(
        "grit-order",
        "The grits do not rise.",
        "Sanding goes from coarse to fine; a coarse grit after a fine one scratches.",
        "Write sand: [120, 150, 180].",
        slip("sand: [120, 180]", "sand: [180, 120]"),
    ),
    Code(
        "unknown-finish",
        "There is no such finish.",
        "Finishes are in the shared folder: ours, and yours beside your plans.",
        "Take the nearest that the message names, or add it to your own shared folder.",
        slip("apply: danish oil", "apply: danisch oil"),
    ),
    Code(
        "unknown-glue",
        "There is no such glue.",
        "Glues are among the consumables of the shared folder, those that say how long they stay open.",
        "Take the nearest that the message names, or add it to your own shared folder.",
        slip("dimensions: {width: 20", "shop: {glue: wood glew}\ndimensions: {width: 20"),
    ),
    Code(
        "note-hook",
        "A note hangs on nothing, on several things, or on an assembly.",
        "It is printed beside one step, one part or one chapter.",
        "Write - part: side, - step: glue-up-lid or - chapter: care.",
        slip("{part: crate.side, text", "{text"),
    ),
    Code(
        "note-unprinted",
        "A note hangs on a chapter that this booklet goes without.",
        "A chapter with nothing to show in a plan, or in an edition of it, is left out with its notes.",
        "Hang the note on another chapter, on a step or on a part.",
        inner="a note hangs on a chapter such as `finishing`, and the plan, or the edition that is compiled, has no finish.",
    ),
    Code(
        "note-chapter",
        "A note hangs on a chapter that the booklet does not have, or on the cover or the contents, which print no notes.",
        "It would be read by nobody.",
        "Take one of the chapters that the message names.",
        slip("{part: crate.side, text", "{chapter: cover, text"),
    ),
    Code(
        "unknown-step",
        "A note hangs on a step that the plan does not have.",
        "Steps follow from the joints, so they change with them; “drawleaf check” and plan.json name them.",
        "Take the nearest that the message names.",
        slip("{part: crate.side, text", "{step: glue-up-lit, text"),
    ),
)
