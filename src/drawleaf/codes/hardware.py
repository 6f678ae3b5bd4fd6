"""Codes of hardware that is let in, hung, or needs room: hinges, magnets, catches, feet, table tops, recesses."""

from __future__ import annotations

from drawleaf.codes.samples import CRATE
from drawleaf.model.code import Code, Example, slip

_KNOB = "{item: knob, on: rail, face: front, at: {x: 10, z: height - 3/8}}"
_ROUND = "{in: rail, round_over: {edges: [front-bottom], size: 1/8}}"
_SLIDES = "{item: side-mount slides 12 in, on: [case.side, case.side.mirrored], carries: drawer, at: {y: 1/8, z: 4}}"
_JOINTS = "    joints:\n"
_POST = "      post: {stock: ply, thickness: x, grain: z, left: 30, front: 0, deep: 4, bottom: 0, high: 10, lean: {left: 5 deg}}\n"

CODES = (
    Code(
        "hardware-incomplete",
        "A piece of hardware lacks a key that it cannot do without.",
        "A hinge must know what it carries, a magnet what its other half goes on, a foot where it stands.",
        "Add the key that the message names.",
        slip(_KNOB, "{item: leveller, on: side}"),
    ),
    Code(
        "hardware-parts",
        "A hinge is on several parts, or what it carries belongs to the same assembly.",
        "A door hangs on one part, and is put together by itself before it is hung.",
        "Name one part with “on”, and give the door an assembly of its own.",
        slip(_KNOB, "{item: butt hinge 2 in, on: side.original, carries: lid}"),
    ),
    Code(
        "hardware-leaning",
        "Hardware that needs room is put on a part that leans.",
        "Its room and its cuts are worked out for parts that stand square.",
        "Put it on a part that stands square, or say in a note how it is fitted.",
        Example(
            wrong=CRATE.replace(_JOINTS, _POST + _JOINTS).replace(
                _KNOB, "{item: leveller, on: post, at: {x: 30, y: 2}}"
            )
        ),
    ),
    Code(
        "hardware-unmet",
        "Nothing lies where the other half of a piece of hardware must sit.",
        "A magnet needs its plate, a catch its strike, a hinge the edge of a door.",
        "Name the part that lies opposite, or move the hardware.",
        slip(
            _KNOB,
            "{item: inset magnet 3/4 in, on: floor, face: top, at: {x: 5, y: 2}, other_half_on: side.original}",
        ),
    ),
    Code(
        "hardware-clearance",
        "The room that a piece of hardware asks for is not there.",
        "A castor must swivel, a stay must fold, a drawer must pass its slides, a closed hinge must fill its gap.",
        "Change the part or the place by what the message says.",
        slip(_KNOB, "{item: plate castor 2 in, on: floor, at: {x: 2-1/4, y: 5}}"),
    ),
    Code(
        "hardware-wood",
        "A part is too thin or too narrow for what the hardware needs cut, or for its plate.",
        "The wood would break out, or a screw would find none.",
        "Take smaller hardware, or a thicker part, or move it inwards.",
        slip(_KNOB, "{item: leveller, on: back, at: {x: 10, y: depth - 1/8}}"),
    ),
    Code(
        "hardware-screws",
        "The screws of a piece of hardware come through the part, or no bolt fits its thickness.",
        "A point that comes through scratches, and a bolt that does not reach holds nothing.",
        "Put it on a thicker part, or take other hardware.",
        slip(_KNOB, "{item: corner bracket 1 in, on: floor, face: top, other_half_on: back, at: {x: 10}}"),
    ),
    Code(
        "slides-opens",
        "A drawer is to come out at a side where one of its own slides stands.",
        "It runs along its slides: between slides at the left and the right it goes to the front or the back, and between slides at the front and the back to the left or the right.",
        "Name the side with “opens”.",
        slip("at: {y: 1/8, z: 4}", "opens: left, at: {y: 1/8, z: 4}", sample="chest"),
    ),
    Code(
        "unused-key",
        "A line of hardware has a key that its kind of hardware does not read.",
        "What is written and does nothing leaves you in the belief that it was heard.",
        "Leave it out, or write one of the keys that the message names.",
        slip(_KNOB, "{item: knob, on: rail, face: front, at: {x: 10, z: height - 3/8}, set_below: 1/8}"),
    ),
    Code(
        "hinge-boring",
        "A concealed hinge cannot make the door cover the case as it is drawn.",
        "How far the cup is bored from the edge decides how far the door covers the side, and it can only be bored within limits.",
        "Take the hinge that the message names, or change how far the door covers the side.",
        slip(_SLIDES, "{item: concealed hinge full overlay, on: case.side.original, carries: drawer}", sample="chest"),
    ),
    Code(
        "recess-size",
        "A recess lacks a size, or does not lie in its part.",
        "It is given by two sizes along its face, or by a diameter, and by its depth.",
        "Give the sizes that the message names.",
        slip(
            _ROUND,
            _ROUND + "\n      - {in: floor, recess: {face: top, at: {x: 5, y: 5}, wide: 1, high: 1, depth: 1/8}}",
        ),
    ),
)
