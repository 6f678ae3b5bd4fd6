"""What keys, words and items were called in older versions, and what they are called now: the one list of it."""

from __future__ import annotations

from collections.abc import Mapping

KEYS: Mapping[str, Mapping[str, str]] = {
    "JointEntry": {"pitch": "finger_width", "play": "clearance", "socket": "round_tenon"},
    "ScrewOptions": {"sink": "counterbore", "every": "spacing", "ends": "end_distance"},
    "FittingEntry": {
        "into": "backing",
        "sink": "set_below",
        "spacing": "center_to_center",
        "ends": "end_distance",
        "meets": "other_half_on",
        "fit": "item",
    },
    "AssemblyEntry": {"fittings": "hardware"},
    "ComponentSource": {"fittings": "hardware"},
    "StockEntry": {"defects": "waste", "uncommon": "special_order"},
    "PlanSource": {"making": "shop"},
    "ShopEntry": {"jointing": "jointing_allowance", "kit": "tools"},
    "EditionEntry": {"kit": "tools"},
    "PartEntry": {"cut_to": "level_ends", "match": "grain_match", "about": "pivot"},
    "GlueUpEntry": {"widest": "widest_strip"},
    "RepeatEntry": {"pitch": "spacing"},
    "PinRows": {"pitch": "spacing"},
    "MachiningEntry": {"trim": "angle_cut"},
    "TaperEntry": {"off": "narrow_by"},
    "ThicknessEntry": {"uncommon": "special_order"},
}
"""By model, the old name of a key and the one that it has now."""

NAMES: Mapping[tuple[str, str], Mapping[str, str]] = {
    ("HardwareEntry", "measures"): {
        "pitch": "spacing",
        "screw pitch": "screw spacing",
        "plate pitch": "plate spacing",
        "play": "travel",
    },
}
"""By model and key, names below it that are not free: what its owner looks for under certain names."""

WORDS: Mapping[tuple[str, str], Mapping[str, str]] = {
    ("FittingEntry", "let_in"): {"fixed": "case"},
    ("MaterialEntry", "form"): {"edge trim": "edge banding"},
    ("HardwareEntry", "kind"): {
        "cup hinge": "concealed hinge",
        "under-mount slides": "undermount slides",
        "let-in magnet": "inset magnet",
    },
}
"""By model and key, words that may be written there under another name."""

FOLDERS: Mapping[str, str] = {"kits": "tool_sets"}
"""What a folder or file of a ``shared/`` was called."""

PARAMETERS: Mapping[str, Mapping[str, str]] = {
    "drawer box": {"play": "clearance"},
    "tongued drawer box": {"play": "clearance"},
    "tongue-and-dado drawer box": {"play": "clearance"},
    "dovetailed drawer box": {"play": "clearance"},
    "edged shelf": {"play": "clearance"},
    "frame and panel door": {"room": "clearance"},
    "table base": {"set_back": "setback"},
}
"""By component of our own, the old name of a parameter."""

ITEMS: Mapping[str, Mapping[str, str]] = {
    "hardware": {
        "cup hinge full overlay": "concealed hinge full overlay",
        "cup hinge half overlay": "concealed hinge half overlay",
        "cup hinge inset": "concealed hinge inset",
        "under-mount slides": "undermount slides",
        "let-in magnet": "inset magnet",
    },
    "materials": {"birch edge trim": "birch edge banding"},
    "components": {"tongued drawer box": "tongue-and-dado drawer box"},
}
"""By kind, the old name of an item of our own ``shared/``; of a row of sizes what comes before the size."""
