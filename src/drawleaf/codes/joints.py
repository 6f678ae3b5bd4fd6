"""Codes of joints and their fastenings."""

from __future__ import annotations

from drawleaf.model.code import Code, Example, slip

_DADO = "{dado: floor, in: side, depth: dado, with: [glue, {screws: {count: 2}}]}"
_RABBET = "{rabbet: back, in: side, depth: dado, with: [{brads: {spacing: 5}}]}"
_GROOVE = (
    "component: drawer box\nabout: A box.\nparameters: {wide: null, deep: null, high: null}\n"
    "stock: {box: Sides., floor: Bottom.}\nparts:\n"
    "  box_side: {stock: box, thickness: x, grain: y, left: 0, front: 0, deep: deep, bottom: 0, high: high, mirror: {x: wide / 2}}\n"
    "  box_bottom: {stock: floor, thickness: z, grain: x, left: box_side.right, right: box_side.mirrored.left, front: 0, back: deep, bottom: 1/2}\n"
    "joints:\n  - {groove: box_bottom, in: box_side, depth: 1/4, clearance: 1/4}\n"
)

CODES = (
    Code(
        "joint-kind",
        "A joint names no kind, or more than one.",
        "One key says the kind and names what is let in or set on.",
        "Write - {butt: shelf, to: back}.",
        slip(_DADO, "{in: side, depth: dado}"),
    ),
    Code(
        "loose-tied",
        "Glue or fasteners hold a loose assembly to something outside it.",
        "What is loose is lifted out when the piece is done.",
        "Leave “loose: yes” out of it, or take what holds the joint away.",
        slip(
            "  box:\n    loose: yes\n",
            "  cleat:\n    loose: yes\n    parts:\n"
            "      strip: {stock: wood, thickness: y, grain: x, left: 200, right: 280, front: rack.cross.back, bottom: 250, high: 60}\n"
            "    joints:\n      - {butt: strip, to: rack.cross, with: [glue]}\n  box:\n    loose: yes\n",
            sample="rack",
        ),
    ),
    Code(
        "joined-twice",
        "Two parts are joined twice in the same way at the same place.",
        "A booklet would have the builder cut and close one joint twice.",
        "Take one of the two out; all that holds a joint stands in one line: with: [glue, screws].",
        slip(_RABBET, f"{_RABBET}\n      - {_RABBET}"),
    ),
    Code(
        "joint-partner",
        "A joint does not say which part receives the other.",
        "A butt joint has “to”; a dado, groove or rabbet has “in”.",
        "Add it with the name of the part that receives.",
        slip(_DADO, "{dado: floor, depth: dado, with: [glue]}"),
    ),
    Code(
        "parts-do-not-touch",
        "The parts of a joint do not touch, or stand in one another.",
        "A joint is where a face meets a face; the message says how far apart they are.",
        "Place one part by the other's face: left: side.right.",
        slip(
            "right: side.mirrored.left, front: 0, back: back.front",
            "right: side.mirrored.left - 1/32, front: 0, back: back.front",
        ),
    ),
    Code(
        "not-joined",
        "No joint ties a part to the rest of the piece.",
        "It would have to stand by itself.",
        "Add a joint, or write “loose: yes” at its assembly if it is meant to lie loose.",
        slip(
            "    joints:\n",
            "      foot: {stock: board, thickness: z, grain: x, left: 4, right: 8, front: 2, deep: 2, top: 0}\n    joints:\n",
        ),
    ),
    Code(
        "broad-face",
        "A part meets a channel with its broad face.",
        "Dadoes, grooves, rabbets and pocket screws take an edge or an end.",
        "Use “butt”, or let the other part in.",
        slip(_RABBET, "{dado: side, in: floor, depth: dado}"),
    ),
    Code(
        "butt-with-depth",
        "A butt joint has a depth, a clearance or a stop.",
        "It lets nothing in.",
        "Leave them out, or use “dado”, “groove” or “rabbet”.",
        slip("{butt: rail, to: side, with", "{butt: rail, to: side, depth: 1/4, with"),
    ),
    Code(
        "no-depth",
        "A dado, groove or rabbet has no depth.",
        "The depth is how far the part is let in.",
        "Write depth: 1/4.",
        slip(_DADO, "{dado: floor, in: side, with: [glue]}"),
    ),
    Code(
        "no-such-end",
        "A channel is stopped at an end that it does not have.",
        "It runs from one edge of the part to the other; only these two ends can stop short.",
        "Stop it at one of the ends that the message names.",
        slip(_DADO, "{dado: floor, in: side, depth: dado, stopped: {top: 1}, with: [glue]}"),
    ),
    Code(
        "no-channel-left",
        "The stops at both ends leave no channel between them.",
        "They take more than its length.",
        "Make the stops shorter.",
        slip(_DADO, "{dado: floor, in: side, depth: dado, stopped: {front: 6, back: 6}, with: [glue]}"),
    ),
    Code(
        "clearance-in-dado",
        "A dado has a clearance.",
        "A part bottoms out in its dado; only a panel in a groove moves.",
        "Leave it out, or use “groove”.",
        slip(_DADO, "{dado: floor, in: side, depth: dado, clearance: 1/32, with: [glue]}"),
    ),
    Code(
        "clearance-in-rabbet",
        "A rabbet has a clearance.",
        "A part bottoms out in its rabbet.",
        "Leave it out.",
        slip(_RABBET, "{rabbet: back, in: side, depth: dado, clearance: 1/32}"),
    ),
    Code(
        "clearance-out-of-range",
        "The clearance in a groove is as deep as the groove.",
        "Nothing would hold the panel.",
        "1/32 in to 1/16 in will do for plywood.",
        Example(sample="chest", files={"shared/components/box.yaml": _GROOVE}),
    ),
    Code(
        "rabbet-off-edge",
        "A part in a rabbet does not lie at an edge.",
        "A rabbet is a step along an edge; the part in it lies flush with that edge.",
        "Bring the faces to the same place, or use “dado” or “groove”.",
        slip(_DADO, "{rabbet: floor, in: side, depth: dado}"),
    ),
    Code(
        "uneven-depth",
        "One face of a part is let in by two depths.",
        "It is cut to one line.",
        "Give both joints the same depth.",
        slip(_RABBET, _RABBET + "\n      - {butt: floor, to: side}"),
    ),
    Code(
        "count-out-of-range",
        "So many fasteners to a joint make no sense.",
        "There is no room for them.",
        "Check the count.",
        slip("{screws: {count: 2}}", "{screws: {count: 900}}"),
    ),
    Code(
        "spacing",
        "Fasteners stand closer than they can.",
        "The wood would split.",
        "3 to 8 in is usual (common practice, no source).",
        slip("{brads: {spacing: 5}}", "{brads: {spacing: 1/64}}"),
    ),
    Code(
        "slots-kind",
        "Slots are asked for with something other than screws.",
        "Only plain screws move in a slot.",
        "Use “screws” there, with a pan head that slides on the wood.",
        slip("{brads: {spacing: 5}}", "{brads: {spacing: 5, slots: 'yes'}}"),
    ),
    Code(
        "heads-kind",
        "Heads are to be hidden that cannot be.",
        "Only the heads of plain screws are sunk, and not in slots, where they must slide; filler goes over flat heads alone.",
        "Leave “heads” out. Brad holes are filled without it.",
        slip("{brads: {spacing: 5}}", "{brads: {spacing: 5, heads: filled}}"),
    ),
    Code(
        "heads-flush",
        "A depth or a plug is given for heads that lie flush.",
        "“plug” belongs to heads that are hidden, and “heads: flush” has no depth.",
        "Write “heads: plugged” or “heads: filled” beside it; with a “counterbore” alone the hole stays open.",
        slip("{screws: {count: 2}}", "{screws: {count: 2, plug: plug 3/8 in}}"),
    ),
    Code(
        "counterbore-depth",
        "A head is to lie deeper, or less deep, than makes sense.",
        "“counterbore” is how far a hidden head lies below the face.",
        "1/4 in (6 mm) under a plug and 1/16 in (1.5 mm) under filler are usual: common practice, no source.",
        slip("{screws: {count: 2}}", "{screws: {count: 2, heads: plugged, counterbore: 3}}"),
    ),
    Code(
        "sunk-through",
        "Heads would be sunk right through the part that they should hold.",
        "What a joint cuts away on the far side counts as well.",
        "Make “counterbore” smaller, or leave the heads flush.",
        slip("{screws: {count: 2}}", "{screws: {count: 2, heads: plugged, counterbore: 5/8}}"),
    ),
    Code(
        "no-plug-fits",
        "No plug covers the head of a screw.",
        "The head must go through the hole that the plug fills.",
        "Take a wider plug, or leave out “plug” and let it be chosen.",
        slip(
            "{screws: {count: 2, through: rail}}",
            "{screws: {count: 2, through: rail, item: wood screw 10 x 1-1/4, heads: plugged, plug: plug 3/8 in}}",
        ),
    ),
    Code(
        "rows-off-joint",
        "A row of fasteners is asked for where the two parts do not meet.",
        "A screw there would miss the other part.",
        "Name a side across the joint, and a distance from it that lies on the joint.",
        slip("{screws: {count: 2}}", "{screws: {count: 2, rows: {bottom: 9}}}"),
    ),
    Code(
        "after-assembly-kind",
        "A cut that is no rabbet is to wait until the piece stands.",
        "A bearing bit reaches a rabbet along its open edge; a dado or groove is closed by then.",
        "Leave “after_assembly” out, or make the joint a rabbet.",
        slip(_DADO, "{dado: floor, in: side, depth: dado, after_assembly: 'yes', with: [glue]}"),
    ),
    Code(
        "through-stranger",
        "“through” names a part that is not in the joint.",
        "Screws go through one of the two parts of the joint into the other.",
        "Name one of the parts that this joint joins.",
        slip("{screws: {count: 2}}", "{screws: {count: 2, through: back}}"),
    ),
    Code(
        "pocket-face",
        "Nothing says which face the pockets are bored in, or it is an edge.",
        "Pockets show, so you choose the side that nobody sees.",
        "Add “on” with a broad face of the part.",
        slip("{count: 2, on: bottom}", "{count: 2}"),
    ),
    Code(
        "no-length",
        "A fastener has no length in the catalogue.",
        "Whether it holds cannot be said.",
        "Give it a length in shared/hardware, or name another.",
        slip("{screws: {count: 2}}", "{screws: {item: knob}}"),
    ),
    Code(
        "no-screw-fits",
        "No fastener in the catalogue fits.",
        "It must reach far enough into the second part, and not come out of it.",
        "Drive it from the other part with “through”, fasten with glue alone, or add the fastener to your shared folder.",
        slip(
            "    joints:\n",
            "      plate: {stock: thin, thickness: y, grain: x, left: 4, right: 8, back: back.front, bottom: 4, top: 8}\n"
            "    joints:\n      - {butt: plate, to: back, with: [{screws: {count: 2}}]}\n",
        ),
    ),
    Code(
        "screw-too-short",
        "A fastener that is named does not reach into the second part.",
        "It would hold nothing.",
        "Take a longer one, or leave out “item” and let it be chosen.",
        slip("{screws: {count: 2}}", "{screws: {item: pan-head screw 6 x 5/8}}"),
    ),
    Code(
        "screw-pokes-through",
        "A pocket screw that is named comes out on the far side.",
        "Its point would scratch whoever reaches there.",
        "Take a shorter one, or leave out “item” and let it be chosen.",
        inner="Pocket screws of 2-1/2 in from a rail into a side of 3/4 in. (A plain screw is reported by the check screws.)",
    ),
    Code(
        "short-hold",
        "A fastener enters the second part by less than it should.",
        "It should enter about as far as what it fastens is thick (common practice, no source).",
        "Take a longer one, or drive it from the thinner part.",
        slip("{screws: {count: 2}}", "{screws: {item: wood screw 6 x 3/4}}"),
    ),
    Code(
        "fasteners-crowded",
        "Two fasteners of one joint stand so close that their heads overlap or no wood is left between them.",
        "The wood splits, and the second cannot be driven.",
        "Write the count that the message gives, or fewer.",
        slip("{screws: {count: 2}}", "{screws: {count: 99}}"),
    ),
    Code(
        "fasteners-close",
        "Two fasteners of one joint stand closer than is usual.",
        "Usual are four diameters in a row along the grain and three across it; nearer, the wood may split.",
        "Write the count that the message gives, or fewer.",
        slip("{screws: {count: 2}}", "{screws: {count: 16}}"),
    ),
    Code(
        "fasteners-meet",
        "The fasteners of two joints would run into each other.",
        "There is no place along the joint that is clear of the others.",
        "Set fewer, drive them from another side, or give their ends.",
        inner="Two joints whose screws come from two sides into the same short piece of wood.",
    ),
)
