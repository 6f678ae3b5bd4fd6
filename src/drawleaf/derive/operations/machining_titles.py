"""The titles of steps that machine loose parts, whole: for one, and for several."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.drafts import Workshop, distinct, short_names, title_names
from drawleaf.model.joint_family import CutKind
from drawleaf.setting_out.channels import Channel

CHANNEL_TITLES = {
    CutKind.DADO: ("Cut the dado into the {}", "Cut the dadoes into the {}"),
    CutKind.GROOVE: ("Cut the groove into the {}", "Cut the grooves into the {}"),
    CutKind.RABBET: ("Cut the rabbet along the {}", "Cut the rabbets along the {}"),
}
CHANNEL_TITLES_FOR = {
    CutKind.DADO: ("Cut the dado for the {} into the {}", "Cut the dadoes for the {} into the {}"),
    CutKind.GROOVE: ("Cut the groove for the {} into the {}", "Cut the grooves for the {} into the {}"),
    CutKind.RABBET: ("Cut the rabbet for the {} along the {}", "Cut the rabbets for the {} along the {}"),
}
"""Where two steps would have the same title: what goes in, and where."""
ON_BOARD_TITLES: dict[str, str] = {
    CutKind.GROOVE: "Run the groove along the board, for the {}",
    CutKind.RABBET: "Run the rabbet along the board, for the {}",
    "round-over": "Round over the edge of the board, for the {}",
    "chamfer": "Chamfer the edge of the board, for the {}",
}
"""Of work that is done before the parts are cut off."""
HOLE_TITLES = {
    "hole": ("Drill the hole in the {}", "Drill the holes in the {}"),
    "finger hole": ("Drill the finger hole in the {}", "Drill the finger holes in the {}"),
}
HOLES_FOR = "Drill the holes for {} in the {}"
EDGE_TITLES = {
    "round-over": ("Round over the edge of the {}", "Round over the edges of the {}"),
    "chamfer": ("Chamfer the {}", "Chamfer the {}"),
    "clip-corner": ("Saw the chamfer on the {}", "Saw the chamfer on the {}"),
    "rip-bevel": ("Rip the bevel on the {}", "Rip the bevels on the {}"),
    "cove": ("Run a cove along the edge of the {}", "Run a cove along the edges of the {}"),
    "ogee": ("Run an ogee along the edge of the {}", "Run an ogee along the edges of the {}"),
    "bead": ("Run a bead along the edge of the {}", "Run a bead along the edges of the {}"),
}


def channel_titles(shop: Workshop, kind: CutKind, steps: Sequence[Sequence[Channel]]) -> list[str]:
    """The title of each step by the channels that it cuts: where two would have the same, they name what goes in as well."""
    plan = shop.plan
    parts = [short_names(plan, distinct([channel.part for channel in step])) for step in steps]
    many = [len(step) > 1 for step in steps]
    titles = [shop.words.tell(CHANNEL_TITLES[kind][one], name) for one, name in zip(many, parts, strict=True)]

    def told(place: int) -> str:
        joints = [plan.joint(one.cut.joint) for one in steps[place] if one.cut.joint is not None]
        if titles.count(titles[place]) == 1 or not joints:
            return titles[place]
        coming = title_names(distinct([plan.part(joint.insert) for joint in joints]))
        return shop.words.tell(CHANNEL_TITLES_FOR[kind][many[place]], coming, parts[place])

    return [told(place) for place in range(len(steps))]
