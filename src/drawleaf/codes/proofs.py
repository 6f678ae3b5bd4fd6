"""Codes of the proofs on the solids, and of the lists, layouts and steps."""

from __future__ import annotations

from drawleaf.codes.samples import HEAD
from drawleaf.model.code import Code, Example, slip

_ROUND = "{in: rail, round_over: {edges: [front-bottom], size: 1/8}}"

CODES = (
    Code(
        "shared-wood",
        "Two parts are in the same place.",
        "The message says how much wood they share and where.",
        "Move one of them, or join them so that one is cut for the other.",
        slip(
            "    joints:\n",
            "      block: {stock: board, thickness: z, grain: x, left: 8, right: 12, front: 2, deep: 2, bottom: 1-1/4}\n    joints:\n",
        ),
    ),
    Code(
        "open-joint",
        "There is a gap in a joint once its cuts are made.",
        "Something cut away what the joint should rest on.",
        "Place the part by the face that it should touch, and look at what is cut there.",
        slip(_ROUND, _ROUND + "\n      - {in: rail, notch: {corner: [left, bottom], wide: 1/2, high: 5/8}}"),
    ),
    Code(
        "outside-blank",
        "A part stands out of the blank that it is cut from.",
        "A cut piece cannot be larger than its blank.",
        "Please report it: this is a fault of the compiler.",
        inner="A joint adds wood to a part and the blank is not made larger with it.",
    ),
    Code(
        "falls-apart",
        "A part falls into pieces.",
        "A channel, notch or hole runs right through it, from one side to the other.",
        "Make the cut that the message names smaller, shallower or shorter, or write the pieces as parts of their own.",
        slip(
            _ROUND,
            _ROUND
            + "\n      - {in: floor, notch: {corner: [front, left], deep: 5, wide: 11}}"
            + "\n      - {in: floor, notch: {corner: [back, right], deep: 5, wide: 11}}",
        ),
    ),
    Code(
        "nothing-left",
        "Nothing is left of a part.",
        "Its joints and machining take all of its wood away.",
        "Make the part larger, or the cuts in it smaller.",
        slip(
            _ROUND,
            _ROUND
            + "".join(
                f"\n      - {{in: floor, notch: {{corner: [{y}, {x}], deep: 6, wide: 12}}}}"
                for x in ("left", "right")
                for y in ("front", "back")
            ),
        ),
    ),
    Code(
        "fastener-misses",
        "A fastener does not pass through the one part and into the other.",
        "It is driven beside the part that it should hold, or ends before it holds.",
        "Move the row with “end_distance” or “count”, or take a longer fastener.",
        slip(
            _ROUND,
            _ROUND + "\n      - {in: floor, notch: {corner: [front, left], deep: 3, wide: 2}}",
        ),
    ),
    Code(
        "fastener-comes-out",
        "The point of a fastener comes out of the second part.",
        "It would scratch whoever reaches there.",
        "Take a shorter one, or move the row.",
        inner="A screw that is longer than the two parts together, or whose tip stands in a cut of the second part.",
    ),
    Code(
        "fastener-at-the-side",
        "A fastener breaks out at the side of the second part.",
        "Its shank runs too near a face, a bore or another cut.",
        "Move the row with “end_distance” or “spacing”, or take a thinner one.",
        slip(
            "at: {x: 5, y: 5}, diameter: 1}}",
            "at: {x: 2, y: 5}, diameter: 1}}\n      - {in: floor, bore: {face: front, at: {x: 1-1/4, z: 1-3/8}, depth: 9, diameter: 1/4}}",
        ),
    ),
    Code(
        "fastener-hits",
        "A fastener runs into a third part.",
        "That part stands in its way.",
        "Move the row, or drive it from the other side with “through”.",
        slip(
            "    joints:\n",
            "      post: {stock: ply, thickness: x, grain: z, left: 1-1/8, front: 0, back: back.front, bottom: floor.top, high: 4}\n"
            "    joints:\n      - {dado: post, in: floor, depth: 7/16}\n",
        ),
    ),
    Code(
        "larger-than-sheet",
        "A part is larger than any sheet of its stock.",
        "No sheet on sale gives a piece of that size.",
        "Make it smaller, divide it, or take another stock.",
        slip("width: 20, depth: 10", "width: 120, depth: 10"),
    ),
    Code(
        "longer-than-board",
        "A part is longer than any board of its stock.",
        "Each end of a board loses a little to a square, sound cut.",
        "Make it shorter, divide it, or take another stock.",
        slip(
            "lid: {stock: board, thickness: z, grain: x, left: 0, right: width",
            "lid: {stock: board, thickness: z, grain: x, left: 0, right: 300",
        ),
    ),
    Code(
        "thicker-than-board",
        "A stock is said to be thicker than its board is sold, or than rough lumber is once it is planed.",
        "A board can be planed thinner, not thicker.",
        "Name a thicker size at the stock, or glue parts up from two layers.",
        slip("{material: pine board, size: 1x4}", "{material: pine board, size: 1x4, actual: 13/16}"),
    ),
    Code(
        "needs-planing",
        "A stock is thinner than its board is sold, and the tool set has no planer.",
        "Taking so much off needs a thickness planer; a hand plane only trues a surface.",
        "Take the thickness that is sold, have the yard plane it (“planed: at the yard” at the stock), or name a tool set with a thickness planer.",
        slip("{material: pine board, size: 1x4}", "{material: pine board, size: 1x4, actual: 1/2}"),
    ),
    Code(
        "match-alone",
        "A part is to match others, and no other has the same word.",
        "Grain runs on from one part into another.",
        "Give the same word to the parts that it should match, or leave “grain_match” out.",
        slip("rail: {stock: board,", "rail: {grain_match: front, stock: board,"),
    ),
    Code(
        "match-differs",
        "Parts that should match differ in stock or grain.",
        "Parts whose grain runs on come from one strip.",
        "Give them the same stock and grain, or different words.",
        slip(
            "floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: back.front, bottom: 1}\n      rail: {stock: board,",
            "floor: {grain_match: run, stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: back.front, bottom: 1}\n      rail: {grain_match: run, stock: board,",
        ),
    ),
    Code(
        "match-without-grain",
        "A part is to match another and has no direction of grain, or is glued up.",
        "Its grain cannot run on.",
        "Give it a grain and cut it in one piece, or leave “grain_match” out.",
        slip(
            "top: height}\n      back: {stock: thin, thickness: y, grain: x",
            "top: height, grain_match: run}\n      back: {grain_match: run, stock: thin, thickness: y, grain: any",
        ),
    ),
    Code(
        "matched-too-large",
        "Parts that should match are together larger than any piece of their stock.",
        "They are cut beside each other from one strip.",
        "Match fewer of them.",
        slip(
            "    joints:\n",
            "      tile: {grain_match: tile, stock: thin, thickness: z, grain: x, left: 0, right: 6, front: 20, deep: 6, bottom: 0, "
            "repeat: {along: z, count: 40, spacing: 1}}\n    joints:\n",
        ),
    ),
    Code(
        "cannot-assemble",
        "A part cannot be brought to its place.",
        "It is held on all sides, and nothing of what stands can come last along a straight line.",
        "Let one joint run out, or make it a butt joint.",
        inner="A part that lies in a hollow of another, with no way out along a straight line.",
    ),
    Code(
        "cannot-drive",
        "A part can be brought to its place, but not fastened there.",
        "A driver cannot be set on the heads of its screws: another part stands in front of them.",
        "Drive them from the other side with “through”, or fasten with glue alone.",
        inner="A screw whose head another part covers, whatever comes last.",
    ),
    Code(
        "tools-lacking",
        "The tool set cannot do some of the steps.",
        "It has a tool for no way of doing them. The steps are written as if the least to borrow had been borrowed.",
        "Borrow what the message names, or name another tool set.",
        slip("dimensions: {width: 20", "shop: {tools: hand tools}\ndimensions: {width: 20"),
    ),
    Code(
        "clamps-lacking",
        "A glue-up needs more clamps at once than the tool set has.",
        "Glue does not wait.",
        "Borrow as many as the message says, fasten the joint with screws or brads, or list more clamps in your tool set.",
        Example(
            "lid: {stock: board, thickness: z, grain: x, left: 0, right: width",
            "lid: {stock: board, thickness: z, grain: x, left: 0, right: 140",
        ),
    ),
    Code(
        "glue-too-quick",
        "More is glued in one go than the glue stays open for.",
        "Glue that has begun to set holds nothing.",
        "Take a slower glue, glue some parts first as an assembly of their own, or let a second person spread glue.",
        Example(
            wrong=HEAD
            + """\
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
assemblies:
  slab:
    parts:
      under: {stock: ply, thickness: z, grain: x, left: 0, right: 50, front: 0, back: 30, bottom: 0}
      over: {stock: ply, thickness: z, grain: x, left: 0, right: 50, front: 0, back: 30, bottom: under.top}
    joints:
      - {butt: over, to: under, with: [glue]}
""",
        ),
    ),
    Code(
        "unknown-tool-set",
        "There is no tool set of that name.",
        "Tool sets are in the shared folder: ours, and yours beside your plans. The steps are written for the usual one.",
        "Name one of those that the message lists.",
        slip("dimensions: {width: 20", "shop: {tools: my shed}\ndimensions: {width: 20"),
    ),
    Code(
        "unknown-method",
        "The shared folder has no way of doing a kind of work.",
        "Steps need it.",
        "Add it to shared/methods.yaml.",
        inner="`shared/methods.yaml` as it ships lacks a kind of work; no file of your own can take one away.",
    ),
    Code(
        "no-caution",
        "A step uses a power tool without a caution for it.",
        "No step with a power tool goes to a buyer without its caution.",
        "Give the tool a caution in shared/tools.yaml, and word it in shared/cautions.yaml.",
        inner="A tool of your own in `shared/tools.yaml` with a plug and no cautions.",
    ),
    Code(
        "audit",
        "Two lists of the plan do not agree.",
        "Every part is on the cut list, in a layout, in a drawing and in a step; every screw bought is driven.",
        "Please report it: this is a fault of the compiler.",
        inner="The audit finds that a part is missing from a list that it should be on.",
    ),
    Code(
        "audit-drawings",
        "A drawing does not show what it should.",
        "Every part is shown, and every step has its drawing.",
        "Please report it: this is a fault of the compiler.",
        inner="The audit finds that a part is missing from the drawings.",
    ),
)

__all__ = ["CODES", "Example"]
