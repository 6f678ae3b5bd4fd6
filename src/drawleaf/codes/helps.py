"""Codes of helps: fences, stops, spacers, battens and jigs."""

from __future__ import annotations

from drawleaf.model.code import Code, slip

_RAIL = "{butt: rail, to: side, with: [glue, {pocket_screws: {count: 2, on: bottom}}]}"


def _helped(helps: str) -> str:
    return f"{_RAIL[:-1]}, helps: [{helps}]}}"


CODES = (
    Code(
        "help-kind",
        "An entry under “helps” names no kind of help, or more than one.",
        "Each is set, drawn and listed by itself.",
        "Write one of fence, stop, spacer, batten and jig in each entry.",
        slip(_RAIL, _helped("{fence: front, stop: top}")),
    ),
    Code(
        "help-key",
        "A help is given a key that it does not use, or lacks one that it needs.",
        "What is read by nobody would be swallowed; a batten without a side has no place.",
        "Take the key out, or add the one that the message names.",
        slip(_RAIL, _helped("{fence: back, on: left}")),
    ),
    Code(
        "help-place",
        "A help has no place where it is asked for.",
        "A fence is clamped to what takes the part, a spacer fills a room between two parts, a batten lies on a side that is level.",
        "Name a side that the message offers, or other parts; where a part leans, say it as a jig with a note.",
        slip(_RAIL, _helped("{fence: left}")),
    ),
    Code(
        "help-in-the-way",
        "A help stands where a part stands, or where pocket screws are driven from.",
        "It could not be clamped there, and pocket screws push a part away from the face that they are driven from.",
        "Name another side, or make it smaller.",
        slip(_RAIL, _helped("{fence: bottom}")),
    ),
    Code(
        "help-idle",
        "No step sets a help.",
        "What it stands between or lies on is not all there when its line's work is done.",
        "Write it at the line that brings the last of these parts.",
        slip(
            "    hardware:\n      - {item: knob",
            "      - {in: side.original, bore: {face: left, at: {y: 2, z: 2}, diameter: 1/4}, helps: [{batten: [side, lid], on: front}]}\n    hardware:\n      - {item: knob",
        ),
    ),
)
