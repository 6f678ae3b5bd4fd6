"""Codes of joints cut in solid wood, and of their pins."""

from __future__ import annotations

from drawleaf.model.code import Code, Example, slip

_TENON = "{mortise_and_tenon: rail, in: post, with: [glue, pegs]}"
_DOWELS = "{butt: low, to: post, with: [glue, {dowels: {item: dowel 8 x 40 mm, count: 2}}]}"
_LAP = "{half_lap: cross, in: post, with: [glue]}"
_BRIDLE = "{bridle: rail, in: stile, with: [glue]}"
_FINGERS = "{box_joint: side, in: front, finger_width: 20, with: [glue]}"
_BOARD = "{breadboard: panel, in: end, with: [pegs]}"


def _rack(right: str, wrong: str) -> Example:
    return slip(right, wrong, sample="rack")


CODES = (
    Code(
        "tenon-too-thick",
        "A tenon or tongue does not stay within the wood that it is cut on.",
        "What stands beyond the face cannot be sawn from that board.",
        "A third of the thickness is usual; look at offset as well.",
        _rack(_TENON, "{mortise_and_tenon: rail, in: post, thickness: 30, with: [glue]}"),
    ),
    Code(
        "no-tenon-left",
        "The shoulders at both edges leave no tenon between them.",
        "A joint without a tenon holds nothing.",
        "Make shoulder or offset smaller.",
        _rack(_TENON, "{mortise_and_tenon: rail, in: post, shoulder: 40, with: [glue]}"),
    ),
    Code(
        "not-through",
        "A tenon that is to come through is too short for it.",
        "It ends inside the part that receives it.",
        "Leave depth out, or make it more than the part is thick.",
        _rack(_TENON, "{mortise_and_tenon: rail, in: post, through: yes, depth: 60, with: [glue]}"),
    ),
    Code(
        "no-place-for-haunch",
        "A haunch has no place beside its tenon.",
        "It stands where a tenon at the end of a part is narrower than its rail, and is shorter than the tenon.",
        "Leave haunch out, make it shorter, or bring the rail to the end of the post.",
        _rack(_TENON, "{mortise_and_tenon: rail, in: post, haunch: 90, with: [glue]}"),
    ),
    Code(
        "mortise-breaks-out",
        "A mortise breaks out at the side or the end of its part.",
        "Without wood on all four sides the tenon has no hold.",
        "Give the tenon a shoulder or an offset there, or use a bridle.",
        _rack(_TENON, "{mortise_and_tenon: rail, in: post, offset: {front: 0}, with: [glue]}"),
    ),
    Code(
        "pegs-without-tenon",
        "Pegs are asked for in a joint that has no tenon.",
        "A peg holds by going through a tenon.",
        "Use mortise_and_tenon, bridle or breadboard, or hold the joint with dowels.",
        _rack(_DOWELS, "{butt: low, to: post, with: [glue, pegs]}"),
    ),
    Code(
        "dowel-too-long",
        "A dowel or loose tenon comes out of one of the two parts.",
        "Each hole keeps some wood under it.",
        "Take a shorter one, or leave item out and let it be chosen.",
        _rack("wide: 80, front: 0, bottom: 0, top: 500", "wide: 6, front: 0, bottom: 0, top: 500"),
    ),
    Code(
        "dowels-need-butt",
        "Dowels stand in a joint whose part is let in.",
        "They lie between two faces that meet; a tongue or tenon is there already.",
        "Use butt, or leave the dowels out.",
        _rack(_TENON, "{mortise_and_tenon: rail, in: post, with: [glue, dowels]}"),
    ),
    Code(
        "no-dowel-fits",
        "No dowel, peg or loose tenon of the catalogue fits a joint.",
        "A dowel must stay inside both parts; a peg must reach through.",
        "Name another item, or hold the joint in another way.",
        _rack(_TENON, "{mortise_and_tenon: rail, in: post, with: [glue, {pegs: {item: dowel 8 x 40 mm}}]}"),
    ),
    Code(
        "tenon-stock",
        "Loose tenons are to be made of what gives no strip for them.",
        "They are cut off a strip of solid wood, milled to their thickness and width.",
        "Name a board of the plan that is thick enough, or an item of shared/hardware that is bought.",
        _rack(_TENON, "{mortise_and_tenon: rail, in: post, loose: {thickness: 30}, with: [glue]}"),
    ),
    Code(
        "drawbore",
        "A drawbore is asked for where there are no pegs, or by too much.",
        "The hole in the tenon stands nearer to its shoulder, so that the peg draws the joint tight; a large step breaks the peg.",
        "Write drawbore under pegs, 1 to 1.5 mm.",
        _rack("with: [glue, pegs]}", "with: [glue, {pegs: {drawbore: 6}}]}"),
    ),
    Code(
        "lap-across",
        "A lap or bridle joins parts that do not lie flat in one plane.",
        "Each loses a part of its thickness, so both must be thick the same way.",
        "Turn one of them, or use another joint.",
        _rack(
            "cross: {stock: stout, thickness: y, grain: x, left: 0, right: 600, front: 0, bottom: 250, high: 60}",
            "cross: {stock: stout, thickness: z, grain: x, left: 0, right: 600, front: 0, deep: 60, bottom: 250}",
        ),
    ),
    Code(
        "lap-side",
        "A half lap is to lie on a side that is none of its two faces.",
        "The first part lies on the one or the other of its broad faces.",
        "Name one of them after on.",
        _rack(_LAP, "{half_lap: cross, in: post, on: top, with: [glue]}"),
    ),
    Code(
        "no-end-to-fork",
        "A bridle forks a part that does not end there.",
        "A fork is sawn in from an end.",
        "Name the part that ends there after in, or use half_lap.",
        _rack(_LAP, "{bridle: cross, in: post, with: [glue]}"),
    ),
    Code(
        "no-fingers",
        "A corner has no room for its fingers or tails.",
        "At least two of them must stand beside one another, with wood enough in each.",
        "Make finger_width smaller, or ask for fewer with count.",
        _rack(_FINGERS, "{box_joint: side, in: front, finger_width: 120, with: [glue]}"),
    ),
    Code(
        "corner-not-flush",
        "At a box joint or dovetail a part does not reach the outside of the other.",
        "Fingers and tails are as long as the other part is thick.",
        "Draw both parts to the outside of the corner.",
        _rack(
            "side: {stock: wood, thickness: x, grain: y, left: 0, front: 0, deep: 200",
            "side: {stock: wood, thickness: x, grain: y, left: 0, front: 5, deep: 195",
        ),
    ),
    Code(
        "breadboard-grain",
        "A breadboard end does not lie across the end of its top.",
        "Its own grain runs along that end, the top's grain towards it.",
        "Look at grain of both, and name the top first.",
        _rack(_BOARD, "{breadboard: end, in: panel, with: [pegs]}"),
    ),
    Code(
        "even-tenons",
        "A breadboard end is asked for an even number of tenons.",
        "The one in the middle is glued, so that the top moves to both sides alike.",
        "Take an odd number.",
        _rack(_BOARD, "{breadboard: panel, in: end, count: 4, with: [pegs]}"),
    ),
)
