"""Codes of the workshop checks. A finding can be accepted in the source, with a reason: see “checks” in the source language."""

from __future__ import annotations

from drawleaf.model.code import Code, slip

_ACCEPT = "Change what the message names, or accept it under “checks: waive” with a reason."

CODES = (
    Code(
        "unknown-check",
        "A waiver names a check that there is not.",
        "It is misspelt.",
        "Name one of those that the message lists.",
        slip("checks:\n", "checks:\n  waive: [{check: shelfsag, reason: Fine.}]\n"),
    ),
    Code(
        "idle-waiver",
        "A waiver accepts nothing.",
        "The design may have changed since it was written.",
        "Take it out.",
        slip("checks:\n", "checks:\n  waive: [{check: wall-hanging, reason: Old.}]\n"),
    ),
    Code(
        "shelf-sag",
        "A shelf or span sags more than its limit.",
        "Wood goes on bending for years under a load; the message gives the sag and the longest span that would pass.",
        "Make the span shorter or the shelf thicker, add an edging, or state a lighter load. " + _ACCEPT,
        slip("width: 20, depth: 10", "width: 70, depth: 10"),
    ),
    Code(
        "wood-movement",
        "A wide board is held so that it cannot move across its grain.",
        "It swells and shrinks with the seasons, and splits or pulls its joints apart.",
        "Fasten it with screws through slots, or let it move in a groove. " + _ACCEPT,
        slip(
            "{butt: lid, to: rail, with: [{screws: {count: 2, through: rail}}]}",
            "{butt: lid, to: [side, rail], with: [glue]}",
        ),
    ),
    Code(
        "panel-room",
        "A panel has too little room in its grooves, or so much that it falls out.",
        "It swells in the damp weeks and shrinks in the dry ones.",
        "Give its groove more depth or “clearance”. " + _ACCEPT,
        inner="A solid panel in grooves without “clearance”.",
    ),
    Code(
        "tip-over",
        "The piece can tip over.",
        "A child who hangs on an open drawer is the case to think of.",
        "Add an anti-tip strap to the hardware, or a deeper base. " + _ACCEPT,
        slip("bottom: 0, high: 8, mirror", "bottom: 0, high: 40, mirror", sample="chest"),
    ),
    Code(
        "wall-hanging",
        "The screws that hold the piece on the wall are too few for its load.",
        "It would come down.",
        "Add wall screws, or state a lighter load. " + _ACCEPT,
        inner="A shelf for books on two screws.",
    ),
    Code(
        "screws",
        "A screw or brad holds too little, or comes too near a face.",
        "It would pull out, or split the wood.",
        "Take another length, or move the row. " + _ACCEPT,
        inner="A screw of your own choice that enters by less than the wood asks for.",
    ),
    Code(
        "pin-rows",
        "Rows of holes for shelf pins that face each other are out of line.",
        "A shelf on pins that are not opposite rocks, and one jig no longer serves both sides.",
        "Measure both rows from the same edge, the front one. " + _ACCEPT,
        inner="A side 8 mm deeper than the divider opposite, with both rear rows measured from the back.",
    ),
    Code(
        "screw-heads",
        "The heads of screws lie bare where one sees them.",
        "A case is judged by its front, its sides and its top; a screw head there looks like a mend.",
        "Use glue and clamps, drive the screws from the other side, or write “heads: plugged” or “heads: filled”. "
        + _ACCEPT,
        inner="A shelf screwed through the outside of a side.",
    ),
    Code(
        "finish-schedule",
        "A stain that soaks in goes straight onto a wood that takes it in blotches.",
        "Pine, maple, birch, beech, poplar and fir take more of it in one place than in another, and no second coat mends that.",
        "Let a wood conditioner go on first, or take a gel stain. " + _ACCEPT,
        slip("{apply: danish oil, coats: 2", "{apply: oil stain walnut"),
    ),
    Code(
        "loose-fit",
        "What lifts out has no room between the two that it stands between.",
        "Coats of finish and damp weeks make it larger: it binds, or does not go in at all.",
        "Leave the room that the message names at each end. " + _ACCEPT,
        inner="A loose shelf as long as its opening is wide.",
    ),
    Code(
        "step-steadiness",
        "What stands in a step falls over at a touch, and the step does not say so.",
        "A tall half-built case hurts whoever lets go of it.",
        "Say in a note on the step how it is held, or join the base first. " + _ACCEPT,
        inner="A case 1.5 m high and 250 mm deep, in a catalogue without the caution for unsteady work.",
    ),
    Code(
        "long-parts",
        "A part is too long for one person to steer, and the step does not say so.",
        "It tips off the saw, or swings as you turn.",
        "Say in a note on the step who holds the far end. " + _ACCEPT,
        inner="A shelf of 2.4 m, in a catalogue without the caution for long parts.",
    ),
    Code(
        "joint-proportions",
        "A joint takes too much or too little of a part.",
        "What is left breaks, or the joint does not hold.",
        "Change its depth. " + _ACCEPT,
        slip("{dado: floor, in: side, depth: dado, with", "{dado: floor, in: side, depth: 9/16, with"),
    ),
    Code(
        "drawer-fit",
        "The gaps round a drawer front, or the room round its box, do not suit it.",
        "It would rub in the damp weeks, or show an ugly gap.",
        "Change the gap or the size of the front. " + _ACCEPT,
        inner="A drawer front of solid wood with gaps of 1/64 in.",
    ),
    Code(
        "door-fit",
        "The gaps round a door do not suit it.",
        "It would rub in the damp weeks, or show an ugly gap.",
        "Change the gap or the size of the door. " + _ACCEPT,
        inner="A door of solid wood between two sides with gaps of 1/32 in.",
    ),
    Code(
        "hinge-count",
        "A door or lid hangs on fewer hinges than its height and weight ask for.",
        "It sags, rubs, and pulls the screws of its upper hinge out.",
        "Write count in the line of the hinges, as the message says. " + _ACCEPT,
        inner="A door 1.8 m high on two hinges.",
    ),
    Code(
        "mitre-movement",
        "A flat mitre in wide solid wood opens with the seasons.",
        "Both parts swell across their grain, and the angle of the cut changes.",
        "Make the parts narrower, or join them with a half-lap or a tenon. " + _ACCEPT,
        inner="A mitred frame of red oak 140 mm wide.",
    ),
    Code(
        "people-load",
        "A piece that people stand or sit on tips, or is held together in end grain.",
        "Glue and screws in end grain pull out under a person, and more so where legs splay.",
        "Let the end in, dowel it, or glue a block into the corner; set the feet farther out. " + _ACCEPT,
        inner="A stool whose aprons are screwed through its legs into their ends, with the load “standing”.",
    ),
    Code(
        "small-parts",
        "A part is too small to hold safely at a machine.",
        "Fingers come near the blade.",
        "Cut it from a longer piece as the step says, or by hand. " + _ACCEPT,
        inner="A part of 2 in that is cut at a machine with no way given to hold it.",
    ),
    Code(
        "tool-reach",
        "A saw or bit does not reach as far as the work needs.",
        "The cut could not be made as the step says.",
        "Make the cut shallower, or use another tool. " + _ACCEPT,
        inner="A part 230 mm wide that a step cuts off at a mitre saw, which crosses 146 mm in one pass.",
    ),
    Code(
        "heavy-lift",
        "Something is too heavy for one person.",
        "Backs and fingers get hurt.",
        "Let two people lift it, or make it of two pieces. " + _ACCEPT,
        inner="A piece of 120 lb that one person is to hang.",
    ),
    Code(
        "inside-corners",
        "A cut has square inside corners that a round bit cannot make.",
        "They must be squared with a chisel, or the other part rounded.",
        "Allow the time, or change the cut. " + _ACCEPT,
        slip(
            "{dado: floor, in: side, depth: dado, with",
            "{dado: floor, in: side, depth: dado, stopped: {front: 1}, with",
        ),
    ),
    Code(
        "rounding",
        "Printed sizes do not add up.",
        "Sizes that fit exactly can be off by a step of the rule once they are rounded.",
        "Print finer fractions with “round_to”, or choose sizes that lie on the rule. " + _ACCEPT,
        inner="Sizes in 1/64 in that are printed to 1/8 in.",
    ),
)
