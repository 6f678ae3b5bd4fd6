"""Codes of sections, leaning parts and cuts at an angle."""

from __future__ import annotations

from drawleaf.codes.samples import CRATE
from drawleaf.model.code import Code, Example, slip

_RAIL = "front: 0, deep: 3, top: height}"
_WORK = "{in: rail, round_over"
_PROFILE = "profiles: {cove: {points: [{out: 0, up: 0}, {out: %s, up: 0}, {out: 0, up: %s}]}}"


def _rail(more: str) -> Example:
    """The crate's rail with something more said of it."""
    return slip(_RAIL, _RAIL.replace("}", f", {more}}}"))


def _work(work: str) -> Example:
    """One more line of machining on the crate's rail."""
    return slip(_WORK, f"{{in: rail, {work}}}\n      - {_WORK}")


def _profiled(out: str, up: str, section: str) -> Example:
    """The crate's rail as a moulding."""
    plan = CRATE.replace("dimensions:", _PROFILE % (out, up) + "\ndimensions:")
    return Example(wrong=plan.replace(_RAIL, _RAIL.replace("}", f", section: {{profile: cove, {section}}}}}")))


CODES = (
    Code(
        "round-not-square",
        "A round part is not as wide as it is thick.",
        "Its section is a circle.",
        "Give it the same size along both axes across its length.",
        _rail("section: {round: yes}"),
    ),
    Code(
        "unknown-profile",
        "A section names no profile of the plan.",
        "A moulding's section is drawn under profiles.",
        "Name one of the profiles, or add it.",
        _rail("section: {profile: cove}"),
    ),
    Code(
        "lean-side",
        "A part leans to a side that it cannot lean to.",
        "A part leans left or right, and front or back; its top cannot lean up.",
        "Name one side of each pair at most.",
        _rail("lean: {top: 5 deg}"),
    ),
    Code(
        "lean-too-far",
        "A part leans more than 60°.",
        "Such a part lies down: draw it lying, with another thickness axis.",
        "Make the angle smaller.",
        _rail("lean: {front: 80 deg}"),
    ),
    Code(
        "cut-to-side",
        "An end cannot be cut off there, because the part leans too far.",
        "The cut would run along the part and not across it.",
        "Cut the end that the part stands on, or make it lean less.",
        _rail("turn: 80 deg, level_ends: {left: 3}"),
    ),
    Code(
        "slope-out-of-range",
        "The slope of a dovetail makes no tail.",
        "The slope is how far the side of a tail leans over its length: more than 0, less than 1.",
        "Write 1/8 for hardwood or 1/6 for softwood.",
        slip("{butt: rail, to: side,", "{butt: rail, to: side, slope: 2,"),
    ),
    Code(
        "leaning-drive",
        "Where a part leans, a joint is held in a way that would not be square to a face.",
        "Screws go through the part with the face into the end that lies against it; dowels stand square to that face in both parts.",
        "Drive screws through the receiver, or leave “through” out; or use dowels.",
        Example(
            wrong=CRATE.replace(_RAIL, _RAIL.replace("}", ", lean: {front: 5 deg}}")).replace(
                "{butt: rail, to: side, with: [glue, {pocket_screws: {count: 2, on: bottom}}]}",
                "{butt: rail, to: side, with: [{screws: {through: rail}}]}",
            )
        ),
    ),
    Code(
        "leaning-joint",
        "A part that leans is joined in a way that is laid out square.",
        "Only butts, round tenons and dadoes (housings) follow a part that leans.",
        "Use butt, whose end is cut to lie flat and which dowels hold, round_tenon for a round end, or dado.",
        Example(
            wrong=CRATE.replace(_RAIL, _RAIL.replace("}", ", lean: {front: 5 deg}}")).replace(
                "{butt: rail, to: side, with: [glue, {pocket_screws: {count: 2, on: bottom}}]}",
                "{groove: rail, in: side, depth: 1/4, with: [glue]}",
            )
        ),
    ),
    Code(
        "housing-square",
        "A part that leans, but not along the face of another, is to be housed in it.",
        "A sloping channel takes a part that leans along the face; an end cut at an angle butts.",
        "Use dado or butt, or let the part lean along the face.",
        Example(
            wrong=CRATE.replace(
                "    joints:\n",
                "      leg: {stock: board, thickness: y, grain: z, left: 5, wide: 2, back: 5, bottom: -6, top: floor.bottom, "
                "lean: {front: 5 deg}}\n"
                "    joints:\n"
                "      - {housing: leg, in: floor, depth: 1/4, with: [glue]}\n",
            )
        ),
    ),
    Code(
        "housing-depth",
        "A housing is as deep as its part is thick, or has no depth.",
        "What is left beside it carries the part.",
        "A third of the thickness is plenty.",
        Example(
            wrong=CRATE.replace(_RAIL, _RAIL.replace("}", ", lean: {front: 5 deg}}")).replace(
                "{butt: rail, to: side, with: [glue, {pocket_screws: {count: 2, on: bottom}}]}",
                "{housing: rail, in: side, depth: 1, with: [glue]}",
            )
        ),
    ),
    Code(
        "taper-way",
        "A taper does not run along the length of its part.",
        "“edge” is the side that slants, “toward” the end that gets thinner.",
        "Name one of the two ends under toward.",
        _work("taper: {edge: front, toward: back, start: 2, narrow_by: 1}"),
    ),
    Code(
        "taper-size",
        "A taper does not fit its part.",
        "It begins somewhere along the part, and leaves wood at the thin end.",
        "Make “start” or “narrow_by” smaller.",
        _work("taper: {edge: front, toward: left, start: 2, narrow_by: 4}"),
    ),
    Code(
        "trim-way",
        "An angled end is not at an end of its part, or slants towards itself.",
        "“face” is one of the two ends, “toward” the side at which it is cut shorter.",
        "Name an end under face and a side under toward.",
        _work("angle_cut: {face: front, angle: 10 deg, toward: left}"),
    ),
    Code(
        "trim-angle",
        "An end is cut at an angle that no saw is set to.",
        "Saws and gauges turn up to 60° from square.",
        "Write a smaller angle.",
        _work("angle_cut: {face: left, angle: 75 deg, toward: front}"),
    ),
    Code(
        "section-face",
        "The face or top of a section looks to a side that it cannot.",
        "A moulding's face looks along its thickness, its top along its width.",
        "Write one of the two sides that the message names.",
        _profiled("1/2", "1", "face: left"),
    ),
    Code(
        "profile-size",
        "A corner of a profile lies outside the wood of the part that has it.",
        "A profile fits into the part's thickness and width.",
        "Make the profile smaller, or the part larger.",
        _profiled("2", "1", "face: top"),
    ),
    Code(
        "profile-ways",
        "A profile is told in two ways, or in none.",
        "Its points say all, and so does the one bit that runs it along an edge.",
        "Write “{cove: 3/8, step: 1/8}”, or “points:” and the corners round it.",
        Example(
            wrong=CRATE.replace("dimensions:", "profiles: {rim: {step: 1/8}}\ndimensions:").replace(
                _RAIL, _RAIL.replace("}", ", section: {profile: rim, face: top}}")
            )
        ),
    ),
    Code(
        "profile-outline",
        "The corners of a profile make no closed section.",
        "They go round it once, and an arc's radius is at least half of the way that it spans.",
        "Look at the corner that the message names.",
        _profiled("1/4, arc: 1/16", "1", "face: top"),
    ),
)
