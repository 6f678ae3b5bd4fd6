"""Codes of the plan's head, its stock, and the places and sizes of parts."""

from __future__ import annotations

from drawleaf.codes.entry import Code, Example, slip

_RAIL = "front: 0, deep: 3, top: height"

CODES = (
    Code(
        "allowance",
        "A shop allowance makes no sense.",
        "A kerf or trim is a small length, from nothing to 100 mm.",
        "Write the width of your saw's cut, for instance 1/8.",
        slip("dimensions: {width", "making: {kerf: -1/8}\ndimensions: {width"),
    ),
    Code(
        "price",
        "The plan's price cannot be read.",
        "It is printed on the cover and in lists.",
        'Write figures in quotes: price: "14.00".',
        slip("title: Crate,", "title: Crate, price: much,"),
    ),
    Code(
        "humidity",
        "The humidity of the checks cannot be used.",
        "Wood moves between the driest and the dampest weeks; both are percentages between 5 and 90, the dry one first.",
        "Write humidity: [30, 60], or name a climate.",
        slip("checks:\n", "checks:\n  humidity: [60, 30]\n"),
    ),
    Code(
        "unknown-load",
        "A load is neither a word that is known nor a figure with a unit.",
        "The sag of a shelf cannot be worked out without it.",
        "Write one of the words that the message lists, or a figure such as 40 lb/ft2, 30 kg/m or 20 kg.",
        slip("load: books", "load: stuff"),
    ),
    Code(
        "waiver-without-reason",
        "A waiver does not say why.",
        "The booklet prints each waiver with its reason, so that a buyer can judge it.",
        "Write a reason.",
        slip("checks:\n", "checks:\n  waive: [{check: shelf-sag, reason: ' '}]\n"),
    ),
    Code(
        "cycle",
        "Lengths depend on each other in a ring.",
        "A length in the ring cannot be worked out before itself.",
        "Give one of them by a dimension, or by a face outside the ring.",
        slip("width: 20, depth: 10", "width: depth * 2, depth: width / 2"),
    ),
    Code(
        "over-determined",
        "A part is given three times along one axis.",
        "Two of low face, high face and extent say all; a third can only disagree.",
        "Leave one of the three out.",
        slip(_RAIL, "front: 0, deep: 3, back: 3, top: height"),
    ),
    Code(
        "under-determined",
        "A part is not fully placed along an axis.",
        "It needs two of low face, high face and extent there; along its thickness one face will do.",
        "Add what the message names.",
        slip(_RAIL, "front: 0, top: height"),
    ),
    Code(
        "not-positive",
        "Something comes out at nothing or less: a part, a hole, a distance, a number of coats.",
        "Two figures are probably the wrong way round.",
        "Look at the figures that it is made of.",
        slip(_RAIL, "front: 5, back: 3, top: height"),
    ),
    Code(
        "not-a-length",
        "A part or an assembly stands where a length belongs.",
        "A part has six faces and four sizes; which one is meant is not said.",
        "Name a face or size: side.right, side.thickness.",
        slip(_RAIL, "front: 0, deep: floor, top: height"),
    ),
    Code(
        "unknown-face",
        "A part has no face or size of that name.",
        "The faces are left, right, front, back, bottom and top; the sizes wide, deep, high and thickness.",
        "Name one of these.",
        slip(_RAIL, "front: 0, deep: side.inside, top: height"),
    ),
    Code(
        "unknown-copy",
        "A copy of a part does not exist.",
        "Only a part with “mirror” has a mirrored twin, and only one with “repeat” has numbered copies.",
        "Check the number, or give the part a mirror or a repeat.",
        slip(_RAIL, "front: 0, deep: floor.mirrored.left, top: height"),
    ),
    Code(
        "mirror-axis",
        "A mirror is given along no axis, or along more than one.",
        "A part has one twin, across one plane.",
        "Write mirror: {x: width / 2}.",
        slip("mirror: {x: width / 2}", "mirror: {x: width / 2, y: 5}"),
    ),
    Code(
        "repeat-incomplete",
        "A repeat does not say how many copies, or how far apart.",
        "Both are needed to place them.",
        "Write repeat: {along: z, count: 3, pitch: 5}, or repeat: {along: z, at: [0, 5, 10]}.",
        slip(_RAIL, "front: 0, deep: 3, top: height, repeat: {along: y, count: 2}"),
    ),
    Code(
        "repeat-two-ways",
        "A repeat has both “at” and “count” or “pitch”.",
        "They are two ways of saying the same.",
        "Leave out one of the two.",
        slip(_RAIL, "front: 0, deep: 3, top: height, repeat: {along: y, at: [0, 4], pitch: 4}"),
    ),
    Code(
        "repeat-off-face",
        "A row of holes or fittings leaves the face that it is on.",
        "A row runs along one of the two axes of its face.",
        "Repeat along one of the axes that the message names.",
        slip("at: {x: 5, y: 5}, diameter", "at: {x: 5, y: 5}, repeat: {along: z, count: 2, pitch: 1}, diameter"),
    ),
    Code(
        "copies-out-of-range",
        "So many copies make no sense.",
        "A part is repeated 1 to 200 times, a hole or fitting 1 to 500 times.",
        "Check the count and the figures that it is made of.",
        slip(_RAIL, "front: 0, deep: 3, top: height, repeat: {along: y, count: 10000, pitch: 4}"),
    ),
    Code(
        "too-many-parts",
        "The plan has more than 400 parts.",
        "It is larger than a booklet, and than a set of drawings that anyone could follow; a count is probably wrong.",
        "Check the counts and repeats, or make a plan for each piece of the furniture.",
        slip(
            _RAIL,
            "front: 0, deep: 3, top: height, repeat: {along: y, count: 200, pitch: 4}, mirror: {x: 40}"
             "}\n      post: {stock: board, thickness: z, grain: x, left: 0, right: 2, front: 30, deep: 1, top: 3, repeat: {along: y, count: 100, pitch: 2}",
        ),
    ),
    Code(
        "pins-meet",
        "The holes of a row run into each other.",
        "They stand closer than they are wide.",
        "Make the pitch larger: 1 in to 2 in is usual (common practice, no source).",
        slip("start: 4, pitch: 1, count", "start: 4, pitch: 1/8, count"),
    ),
    Code(
        "too-many-holes",
        "The plan has more than 4,000 holes and fastenings.",
        "Nobody bores that many by hand; a count or a pitch is probably wrong.",
        "Check the counts of the rows.",
        slip(
            "      - {in: floor, bore",
            "      - {in: side, shelf_pins: {face: right, rows: {front: 1, back: 1}, start: 4, pitch: 1/90, diameter: 1/99, count: 500}}\n"
            * 5
            + "      - {in: floor, bore",
        ),
    ),
    Code(
        "grain-through",
        "The grain would run through the thickness of a part.",
        "Grain runs along the length or the width of a board or sheet.",
        "Name one of the other two axes, or write “any” where it does not matter.",
        slip("rail: {stock: board, thickness: z, grain: x", "rail: {stock: board, thickness: z, grain: z"),
    ),
    Code(
        "width-axis",
        "“full_width” names the axis of the grain or of the thickness.",
        "A board's width runs across its grain and across its thickness.",
        "Name the third axis.",
        slip(
            "rail: {stock: board, thickness: z, grain: x", "rail: {stock: board, thickness: z, full_width: z, grain: x"
        ),
    ),
    Code(
        "wider-than-board",
        "A part is wider than the board that it is cut from.",
        "A board gives no piece wider than itself.",
        "Take a wider board, or glue the part up from strips: glue_up: {strips: 2}.",
        slip(_RAIL, "front: 0, deep: 4, top: height"),
    ),
    Code(
        "glue-up-grain",
        "A glued-up part has no direction of grain.",
        "The strips run along the grain.",
        "Give “grain” an axis.",
        slip("lid: {stock: board, thickness: z, grain: x", "lid: {stock: board, thickness: z, grain: any"),
    ),
    Code(
        "glue-up-ways",
        "A glue-up is given in two ways, in none, or with fewer than two strips.",
        "Either their number or their greatest width says how the panel is made.",
        "Write glue_up: {strips: 5} or glue_up: {widest: 3}.",
        slip("glue_up: {strips: slats}", "glue_up: {strips: slats, widest: 3}"),
    ),
    Code(
        "strip-too-wide",
        "The strips of a glue-up are wider than their board.",
        "A board gives no strip wider than itself.",
        "Take more strips, as the message says, or a wider board.",
        slip("{slats: 4}", "{slats: 2}"),
    ),
    Code(
        "unknown-material",
        "There is no such material.",
        "Materials stand in the shared folder: ours, and yours beside your plans.",
        "Take the nearest that the message names, or add the material to your own shared folder.",
        slip("{material: birch plywood, nominal: 1/4", "{material: birch plywod, nominal: 1/4"),
    ),
    Code(
        "unknown-thickness",
        "The material is not sold in that nominal thickness.",
        "The nominal thickness is what you ask for at the store; “actual” is what your caliper says.",
        "Name one of those that the message lists, or add the size to your own shared folder.",
        slip("nominal: 1/4, actual: 1/4", "nominal: 7/8, actual: 1/4"),
    ),
    Code(
        "unknown-size",
        "The material is not sold in that board size.",
        "Boards are bought by a nominal size such as 1x4.",
        "Name one of those that the message lists, or add the size to your own shared folder.",
        slip("size: 1x4", "size: 1x7"),
    ),
    Code(
        "stock-without-thickness",
        "A stock says neither a nominal thickness nor a board size.",
        "Without it nobody knows what to buy.",
        "Write nominal: 3/4 for a sheet, size: 1x6 for a board.",
        slip("{material: pine board, size: 1x4}", "{material: pine board}"),
    ),
    Code(
        "stock-without-width",
        "The width of a stock is asked for that has none.",
        "Sheets, and boards of random width, are cut to width.",
        "Give the part a size across its grain.",
        slip(_RAIL, "front: 0, deep: stock.ply.width, top: height"),
    ),
    Code(
        "name-in-stock",
        "A stock's size refers to other lengths.",
        "Stock is what the store sells, so nothing in the plan can change it.",
        "Write the figure itself: actual: 23/32.",
        slip("nominal: 1/4, actual: 1/4", "nominal: 1/4, actual: dado"),
    ),
    Code(
        "unknown-stock",
        "There is no stock of that name in the plan.",
        "Stocks stand under “stock”.",
        "Take the nearest that the message names, or add the stock.",
        slip("back: {stock: thin", "back: {stock: thinn"),
    ),
    Code(
        "unknown-part",
        "There is no part or assembly of that name.",
        "It is misspelt, or it needs the name of its assembly before it.",
        "Take the nearest that the message names.",
        slip("{dado: floor, in: side", "{dado: flor, in: side"),
    ),
    Code(
        "unknown-component",
        "There is no component of that name.",
        "Components stand in the shared folder: ours, and yours beside your plans.",
        "Take the nearest that the message names.",
        slip("component: drawer box", "component: drawer", sample="chest"),
    ),
    Code(
        "missing-parameter",
        "A component needs a parameter that it is not given.",
        "It has no value of its own for it.",
        "Add it under “with”.",
        slip("wide: 14, deep: 12", "deep: 12", sample="chest"),
    ),
    Code(
        "unknown-parameter",
        "A component has no parameter of that name.",
        "It is misspelt, or it belongs to the assembly and not to the component.",
        "Take the nearest that the message names.",
        slip("wide: 14, deep: 12", "wide: 14, wdie: 12, deep: 12", sample="chest"),
    ),
    Code(
        "name-taken",
        "A part that is added to a component has the name of one that the component has.",
        "Two parts cannot share a name.",
        "Give the part that you add another name.",
        slip(
            "at: {x: 1, y: 0, z: 2}",
            "at: {x: 1, y: 0, z: 2}\n    parts:\n      box_side: {stock: ply, thickness: y, grain: x, left: 0, right: 14, back: 0, bottom: 0, top: 5}",
            sample="chest",
        ),
    ),
)

__all__ = ["CODES", "Example"]
