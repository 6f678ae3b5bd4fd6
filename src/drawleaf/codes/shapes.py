"""Codes of outlines, openings, mitres and round ends."""

from __future__ import annotations

from drawleaf.model.code import Code, Example, slip

_SHAPE = "[{x: 0, z: 0}, {x: 12, z: 0}, {x: 12, z: 5}, {x: 0, z: 5}]"
_OPENING = "at: {x: 6, z: 3}, wide: 3, high: 1, round: 1/2"
_MITRE = "{mitre: long, in: short, with: [glue]}"
_REST = """\
      short: {stock: board, thickness: x, grain: y, front: 0, back: 8, left: 0, bottom: 0, high: 5, mirror: {x: 6}}
      bar: {stock: rod, thickness: z, grain: x, left: short.right, right: short.mirrored.left, front: 3-1/2, deep: 1, bottom: 2}
    joints:
      - {mitre: long, in: short, with: [glue]}
"""
_CAUGHT = """\
      lid: {stock: board, thickness: z, grain: x, left: 0, right: 12, front: 0, back: 3, bottom: 5, mirror: {y: 4}}
      floor: {stock: board, thickness: z, grain: x, left: 0, right: 12, front: 0, back: 3, top: 0, mirror: {y: 4}}
      short: {stock: board, thickness: x, grain: y, front: 0, back: 8, left: 0, bottom: 0, high: 5, mirror: {x: 6}}
      bar: {stock: rod, thickness: z, grain: x, left: short.right, right: short.mirrored.left, front: 3-1/2, deep: 1, bottom: 2}
    joints:
      - {butt: [lid, floor], to: long, with: [glue]}
      - {mitre: long, in: short, spline: {thickness: 1/8, depth: 1/4}, with: [glue]}
"""


def _tray(right: str, wrong: str) -> Example:
    return slip(right, wrong, sample="tray")


CODES = (
    Code(
        "outline-corner",
        "A corner of an outline has not the two coordinates that it needs.",
        "An outline is drawn on a face: each of its corners is so far along the one way and so far along the other.",
        "Give each corner the two coordinates that the message names, and no third.",
        _tray("{x: 12, z: 5}", "{x: 12, y: 5}"),
    ),
    Code(
        "outline-arc",
        "A rounding or an arc of an outline cannot be drawn.",
        "It is larger than the stretch beside it, or there is nothing to round.",
        "Make it smaller, or end the arc where the line should begin.",
        _tray("{x: 12, z: 5}", "{x: 12, z: 5, round: 20}"),
    ),
    Code(
        "outline-crosses",
        "An outline crosses itself.",
        "Its corners are taken in the order in which they stand, and the last is joined to the first.",
        "Write them in order round the shape. Two roundings on one stretch must leave room for each other.",
        _tray(_SHAPE, "[{x: 0, z: 0}, {x: 12, z: 5}, {x: 12, z: 0}, {x: 0, z: 4}]"),
    ),
    Code(
        "outline-outside",
        "An outline stands out of the part that it is sawn from.",
        "The part as it is placed is the blank: what lies outside of it is no wood.",
        "Make the part larger, or the outline smaller. An arc bulges beyond its two ends.",
        _tray("{x: 12, z: 5}", "{x: 12, z: 6}"),
    ),
    Code(
        "cutout-outline",
        "A cutout does not say what its shape is.",
        "It is an outline of its own, or a rectangle: a place and two sizes.",
        "Write an outline, or at with the two sizes that the message names.",
        _tray(_OPENING, "at: {x: 6, z: 3}, wide: 3"),
    ),
    Code(
        "cutout-round",
        "The corners of a cutout are rounder than it is wide.",
        "A rounding takes its radius from both sides of the corner.",
        "Make the radius half of the smaller size or less.",
        _tray("round: 1/2", "round: 3/4"),
    ),
    Code(
        "cutout-depth",
        "A pocket is deeper than the wood.",
        "It would come out on the far side.",
        "Make it less deep, or leave depth out for an opening right through.",
        _tray(_OPENING, f"{_OPENING}, depth: 2"),
    ),
    Code(
        "cutout-off-part",
        "A cutout lies beside the part.",
        "Nothing would be cut.",
        "Look at its place: coordinates are those of the piece, not of the part.",
        _tray("at: {x: 6, z: 3}", "at: {x: 60, z: 3}"),
    ),
    Code(
        "mitre-uneven",
        "Two parts that are to be mitred do not lie level.",
        "A mitre closes only where both parts begin and end at the same places along it.",
        "Give both the same two faces along the axis that the message names.",
        _tray("left: 0, bottom: 0, high: 5, mirror: {x: 6}", "left: 0, bottom: 0, high: 4, mirror: {x: 6}"),
    ),
    Code(
        "mitre-with-depth",
        "A mitre has a depth.",
        "Nothing is let in: the parts meet along the diagonal of their corner.",
        "Leave it out. A strip across the mitre is a spline.",
        _tray(_MITRE, "{mitre: long, in: short, depth: 1/4, with: [glue]}"),
    ),
    Code(
        "spline-size",
        "A spline does not fit its corner.",
        "Its slots would come out through the outside, or meet the inside.",
        "Make it thinner or less deep: a sixth of the thickness, and a third of it deep, is usual in the corner of a box.",
        _tray(_MITRE, "{mitre: long, in: short, spline: {thickness: 1/8, depth: 2}, with: [glue]}"),
    ),
    Code(
        "spline-stock",
        "There is nothing to cut a spline from.",
        "A spline is a part like any other: it stands on the cut list and is cut from a sheet or a board.",
        "Write its thickness, so that thin plywood or the wood of the mitred part is taken, or name one of the plan's stocks.",
        _tray(_MITRE, "{mitre: long, in: short, spline: {depth: 1/4}, with: [glue]}"),
    ),
    Code(
        "spline-thickness",
        "A spline and the stock it is cut from are not equally thick.",
        "The slot is as wide as the spline is thick.",
        "Leave the thickness out: it is that of the stock.",
        _tray(_MITRE, "{mitre: long, in: short, spline: {thickness: 1/8, depth: 1/4, stock: board}, with: [glue]}"),
    ),
    Code(
        "spline-caught",
        "A spline cannot be put in.",
        "It slides along its slot when both parts stand, and something closes the slot at both ends by then.",
        "Leave one end of the corner open, name the parts that close it after those that are mitred, or hold the mitre in another way.",
        _tray(_REST, _CAUGHT),
    ),
    Code(
        "round-tenon-not-round",
        "A part that is to sit in a round hole does not meet it with a round end.",
        "A hole for it is bored as wide as the round is thick.",
        "Give it section: {round: yes}, cut it from a rod, or join it with a tenon.",
        _tray("{stock: rod, thickness: z", "{stock: board, thickness: z"),
    ),
)
