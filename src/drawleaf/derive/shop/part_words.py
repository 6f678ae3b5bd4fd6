"""Words for rows of the cut list: names of merged parts, edge treatments, glue-ups."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from drawleaf.english import capitalized, listed, lower_first, noun
from drawleaf.model.catalogue import BoardSize, Stock
from drawleaf.model.fitted import FittedAs
from drawleaf.model.place import Axis
from drawleaf.model.plan import EdgeProfile, Part, Plan
from drawleaf.setting_out.mitres import mitre_waste, mitres
from drawleaf.units import Length, LengthFormat

WORK_WORDS = {"round-over": "Round over", "round over": "Round over", "round_over": "Round over", "chamfer": "Chamfer"}
# Boards of one size differ so much by themselves: common practice, no source.
SAME_THICKNESS = Length.of_inches(Fraction(3, 64))
HANDS = ("left", "right")
SIDE_WORDS = {Axis.X: ("left", "right"), Axis.Y: ("front", "back"), Axis.Z: ("lower", "upper")}


def merged_name(names: list[str]) -> str:
    """One name for parts that are cut alike: ``Top rail`` and ``Bottom rail`` make ``Top and bottom rail``."""
    names = list(dict.fromkeys(names))
    plain = {_without_hand(name) for name in names}
    if len(names) > 1 and len(plain) == 1:
        return plain.pop()
    if len(names) == 1:
        return names[0]
    words = [name.split() for name in names]
    shortest = min(len(one) for one in words)
    tail = 0
    while tail < shortest - 1 and len({one[-1 - tail].lower() for one in words}) == 1:
        tail += 1
    head = 0
    while head < shortest - tail - 1 and len({one[head].lower() for one in words}) == 1:
        head += 1
    middles = [" ".join(one[head : len(one) - tail]) for one in words]
    if not head:
        middles[1:] = [lower_first(middle) for middle in middles[1:]]
    if not head and not tail:
        return listed(middles)
    return " ".join([*words[0][:head], listed(middles), *(words[0][len(words[0]) - tail :] if tail else [])])


def _without_hand(name: str) -> str:
    """``Stile`` for ``Left stile``: where both are cut alike the hand says nothing."""
    first, _, rest = name.partition(" ")
    return capitalized(rest) if rest and first.lower() in HANDS else name


def side_word(part: Part, other: Part) -> str | None:
    """Where a part stands as against its twin: ``left``, ``front``, ``upper``. None if their middles coincide."""
    for axis in Axis:
        here, there = part.body.center.along(axis), other.body.center.along(axis)
        if here != there:
            return SIDE_WORDS[axis][here > there]
    return None


def edge_words(part: Part, lengths: LengthFormat) -> list[str]:
    """What is done to edges: ``Round over 1/4 in: front top and left top edges.``"""
    groups: dict[tuple[str, str], list[str]] = {}
    for feature in part.features:
        if isinstance(feature, EdgeProfile):
            work = (WORK_WORDS.get(feature.kind, feature.kind.capitalize()), lengths.text(feature.size))
            groups.setdefault(work, []).append(edge_text(feature))
    return [f"{work} {size}: {listed(edges)} {noun(len(edges), 'edge')}." for (work, size), edges in groups.items()]


def edge_text(profile: EdgeProfile) -> str:
    """``front top``; of a whole rim ``front outline`` or ``front opening``."""
    if profile.round_what:
        return f"{profile.edge[0].value} {profile.round_what}"
    return " ".join(face.value for face in profile.edge)


def glue_up_words(part: Part, lengths: LengthFormat) -> list[str]:
    """How a panel is glued up, in words; empty for a part that is no panel."""
    if part.glue_up is None:
        return []
    glue_up = part.glue_up
    strip_width, extra = lengths.text(glue_up.strip_width), lengths.text(glue_up.extra)
    return [
        f"Glue up from {glue_up.strips} strips, each {strip_width} wide.",
        f"Leave {extra} extra all round and trim to size when the glue is dry.",
    ]


def mitre_words(part: Part, lengths: LengthFormat) -> list[str]:
    """How a mitred part's length is meant, and what it is cut longer at first."""
    ends = [one for one in mitres(part) if one.sort == "end"]
    if not ends:
        return []
    waste = mitre_waste(part)
    longer = f" Cut it {lengths.text(waste)} longer at first." if waste else ""
    how = "from long point to long point" if len(ends) == 2 else "to the long point of its miter"
    return [f"The length is {how}.{longer}"]


def planed(stock: Stock, boards: Sequence[BoardSize]) -> bool:
    """Whether the plan wants the boards thinner than they are sold, by more than boards differ."""
    thinner = all(stock.thickness + SAME_THICKNESS < board.thickness for board in boards)
    return bool(boards) and thinner and not stock.as_bought


def fitted_words(part: Part, plan: Plan) -> str:
    """What a fitted part is cut over, its calculated size, and what its last size is marked from."""
    assert part.fitted is not None
    length, width, _ = part.size
    longer, wider = part.rough[0] - length, part.rough[1] - width
    text = plan.lengths.text
    if part.fitted_as is FittedAs.TOP or (part.fitted_as is FittedAs.OPENING and part.glue_up is not None):
        return f"Mark its last size from {standing_words(plan, part)}, when that stands."
    over = listed([f"{text(more)} too {word}" for more, word in ((longer, "long"), (wider, "wide")) if more])
    source = (
        "trim it flush in place"
        if part.fitted_as in (FittedAs.EDGING, FittedAs.FLUSH)
        else f"mark it from {standing_words(plan, part)}"
    )
    return f"Cut {over} at first: {source}. Reckoned {text(length)} by {text(width)}."


MOST_STANDING = 3
"""So many parts are named one by one; more by the assemblies that they are of."""


def standing_words(plan: Plan, part: Part) -> str:
    """What a fitted part is marked from: ``the left side and the right side``, ``the case``."""
    parts = [plan.part(one) for one in (part.fitted.marked_from if part.fitted else ())]
    names = list(dict.fromkeys(one.name for one in parts))
    if len(names) > MOST_STANDING:
        names = list(dict.fromkeys(plan.assembly(one.assembly).name for one in parts))
    return listed([f"the {lower_first(name)}" for name in names]) or "its place"


def row_note(part: Part, plan: Plan) -> str:
    """The note of a cut-list row: glue-up, ripping from wider stock, edges, then the author's own words."""
    words = glue_up_words(part, plan.lengths)
    width = part.stock.width
    if width is not None and not words and part.size[1] < width:
        words.append(f"Rip to width from {part.stock.nominal}.")
    if part.fitted is not None:
        words.insert(0, fitted_words(part, plan))
    if part.oversize:
        words.insert(0, f"Cut {plan.lengths.text(part.oversize)} larger along every edge, and trim to this size later.")
    if planed(part.stock, part.stock.boards):
        thickness = plan.lengths.text(part.stock.thickness)
        at_yard = part.stock.at_yard
        words.insert(0, f"Planed to {thickness} at the yard." if at_yard else f"Plane the board to {thickness} first.")
    if part.section is not None:
        words.append("Round." if part.section.round else f"Section: {part.section.name}.")
    words += [*(() if part.fitted else mitre_words(part, plan.lengths)), *edge_words(part, plan.lengths)]
    if part.note:
        words.append(part.note)
    return " ".join(words)
