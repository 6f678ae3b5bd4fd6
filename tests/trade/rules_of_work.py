"""Rules of the trade on joints cut in solid wood, on stock and on what is bored, cut and sanded."""

from __future__ import annotations

from tests.trade.more_plans import BAR, BOX, BREADBOARD, CROSS, IN_PLANE, ON_EDGE, bar, box, breadboard
from tests.trade.plans import BUTTED, FRAME, HOOK, PANEL, SHELF, frame, shelf
from tests.trade.rule import Rule

TENON = "mortise_and_tenon: rail, in: stile{}"
BUTT = "butt: rail, to: stile"
PINS = "    machining:\n      - {{in: side.original, shelf_pins: {{face: right, rows: {{front: 50}}, start: 40, spacing: {}, count: 5}}}}"
ON_SHELF = "    machining:\n      - {{in: shelf, {}}}"


def pins(spacing: int) -> dict[str, object]:
    return shelf(more=PINS.format(spacing))


def on_shelf(work: str) -> dict[str, object]:
    return shelf(more=ON_SHELF.format(work))


RULES = (
    Rule("a tenon keeps its cheeks", "A tenon is thinner than the rail that it is cut on: both shoulders need wood.",
         "tenon-too-thick", FRAME, frame(), frame(joint=TENON.format(", thickness: 25"))),
    Rule("shoulders leave a tenon", "The shoulders at the edges of a rail leave a tenon between them.",
         "no-tenon-left", FRAME, frame(joint=TENON.format(", shoulder: 8")), frame(joint=TENON.format(", shoulder: 40"))),
    Rule("a mortise has two walls", "A mortise has wood on both sides: at the very face it is an open slot.",
         "mortise-breaks-out", FRAME, frame(), frame(joint=TENON.format(", offset: {front: 0}"))),
    Rule("pegs go through tenons", "A peg holds a tenon; in a butt there is nothing for it to hold.",
         "pegs-without-tenon", FRAME, frame(held=", pegs"), frame(ends=BUTTED, joint=BUTT, held=", pegs")),
    Rule("a drawbore draws by a hair", "The hole in a tenon stands a millimetre or two nearer to its shoulder: much more, and the peg breaks the tenon.",
         "drawbore", FRAME, frame(held=", {pegs: {drawbore: 1}}"), frame(held=", {pegs: {drawbore: 6}}")),
    Rule("two dowels have room", "A rail takes two dowels where it is high enough for both: in a narrow one they break out at its edges.",
         "fastener-at-the-side", FRAME, frame(ends=BUTTED, joint=BUTT, held=", {dowels: {count: 2, item: dowel 8 x 40 mm}}"),
         frame(ends=BUTTED, joint=BUTT, wide=16, held=", {dowels: {count: 2, item: dowel 8 x 40 mm}}")),
    Rule("a finger is no wider than its corner", "A corner has room for three fingers at least.",
         "no-fingers", BOX, box(), box(joint="box_joint: side, in: end, finger_width: 120")),
    Rule("dovetails by hand are no first piece", "A plan that asks for no experience has no joint that closes only at the tenth try.",
         "skill-level", BOX, box(), box(joint="dovetail: side, in: end")),
    Rule("fingers reach the outside", "At a box joint each part reaches the outside of the other.",
         "corner-not-flush", BOX, box(), box(front=5)),
    Rule("dovetails slope by one in five to one in nine", "A steeper tail breaks off at its corners, a flatter one does not hold.",
         "slope-out-of-range", BOX, box(joint="dovetail: side, in: end, count: 2"), box(joint="dovetail: side, in: end, count: 2, slope: 1")),
    Rule("a lap lies in one plane", "Parts that are lapped lie flat in one plane; on edge, half of one is a notch in the other.",
         "lap-across", CROSS, IN_PLANE, ON_EDGE),
    Rule("breadboard ends lie across", "A breadboard end lies across the grain of its top.",
         "breadboard-grain", BREADBOARD, breadboard(), breadboard(joint="breadboard: end, in: panel")),
    Rule("a breadboard has a middle tenon", "An odd number of tenons: the middle one is fast, and the top moves to both sides of it.",
         "even-tenons", BREADBOARD, breadboard(joint="breadboard: panel, in: end, count: 3"), breadboard(joint="breadboard: panel, in: end, count: 4")),
    Rule("strips are wide enough to joint", "Strips of a glue-up narrower than 10 mm cannot be jointed and held.",
         "strip-too-narrow", BREADBOARD, breadboard(strips="strips: 4"), breadboard(strips="strips: 60")),
    Rule("a panel does not fill its groove", "A panel that moves lies in its groove by more than it leaves free.",
         "clearance-out-of-range", PANEL, {"joint": "groove: panel, in: stile, depth: 10, clearance: 4", "held": ""},
         {"joint": "groove: panel, in: stile, depth: 10, clearance: 10", "held": ""}),
    Rule("a dado fits", "A dado is cut to fit its shelf: room in it is a loose joint.",
         "clearance-in-dado", SHELF, shelf(joint="dado: shelf, in: side, depth: 6", held="glue"),
         shelf(joint="dado: shelf, in: side, depth: 6, clearance: 1", held="glue")),
    Rule("a rabbet leaves a third", "A rabbet takes half to two thirds of the side: what is left must hold.",
         "joint-proportions", SHELF, shelf(joint="rabbet: shelf, in: side, depth: 9", held="glue", up=0),
         shelf(joint="rabbet: shelf, in: side, depth: 15", held="glue", up=0)),
    Rule("pockets on a hidden face", "Pocket holes are bored in a broad face, on the side that nobody sees.",
         "pocket-face", SHELF, shelf(held="glue, {pocket_screws: {count: 2, on: bottom}}"), shelf(held="glue, {pocket_screws: {count: 2}}")),
    Rule("slots are for screws", "Only a screw slides in a slot: a brad bends.",
         "slots-kind", BAR, bar(held=", {screws: {count: 2, slots: yes, item: pan-head screw 8 x 1-1/4}}"),
         bar(held=", {brads: {count: 2, slots: yes}}")),
    Rule("a plug covers its head", "A plug is wider than the head below it.",
         "no-plug-fits", BAR, bar(), bar(held=", {screws: {count: 2, item: wood screw 10 x 1-1/4, heads: plugged, plug: plug 3/8 in}}")),
    Rule("grain runs along", "The grain of a board runs along it or across, never through its thickness: it would break at a touch.",
         "grain-through", BAR, bar(), bar(grain="y")),
    Rule("no part wider than its board", "What is wider than the board is glued up.",
         "wider-than-board", BAR, bar(), bar(high=120)),
    Rule("no part longer than its board", "What is longer than the board that stores sell is joined, or made shorter.",
         "longer-than-board", BAR, bar(), bar(long=5200)),
    Rule("no part larger than its sheet", "What is larger than a sheet is made of two.",
         "larger-than-sheet", SHELF, shelf(), shelf(span=3200)),
    Rule("thin boards are planed", "A board thinner than it is sold needs a planer, or the yard.",
         "needs-planing", BAR, bar(), bar(size="size: 1x3, actual: 12 mm")),
    Rule("grits rise", "Each grit is finer than the one before: it takes out the scratches of that.",
         "grit-order", BAR, bar(), bar(grits="180, 120")),
    Rule("an edge has wood for its profile", "A round-over is smaller than the edge that it is cut on.",
         "edge-size", BAR, bar(), bar(work="round_over: {edges: [back-top], size: 25}")),
    Rule("a hole keeps inside its part", "A hole that runs over the edge tears it out.",
         "hole-off-part", BAR, bar(work="bore: {face: back, at: {x: 350, z: 30}, diameter: 10}"), bar(work="bore: {face: back, at: {x: 350, z: 2}, diameter: 10}")),
    Rule("a pocket has a floor", "A pocket is less deep than the wood.",
         "cutout-depth", BAR, bar(work="cutout: {face: back, at: {x: 330, z: 30}, wide: 40, high: 20, depth: 8}"),
         bar(work="cutout: {face: back, at: {x: 330, z: 30}, wide: 40, high: 20, depth: 25}")),
    Rule("corners are rounded within their opening", "The corners of an opening are rounded by half its width at most.",
         "cutout-round", BAR, bar(work="cutout: {face: back, at: {x: 330, z: 30}, wide: 40, high: 20, round: 8}"),
         bar(work="cutout: {face: back, at: {x: 330, z: 30}, wide: 40, high: 20, round: 15}")),
    Rule("wood between shelf pins", "Holes for shelf pins stand so far apart that wood is left between them.",
         "shelf-pins-meet", SHELF, pins(32), pins(4)),
    Rule("hardware on wood", "Hardware sits on its part with all its plate.",
         "hardware-off-part", HOOK, {"x": 90}, {"x": 420}),
)  # fmt: skip
