"""Heads of screws in sight: none on the front, the sides or the top of the piece, but under a plug, under filler by the author's word, or
behind something."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import Bench, called, figures, result, sentence
from drawleaf.english import listed
from drawleaf.model.catalogue import SCREWS
from drawleaf.model.checks import CheckResult, Sentence, Verdict
from drawleaf.model.place import Face
from drawleaf.model.plan import Fastener
from drawleaf.model.position import Position
from drawleaf.setting_out.screws import entered_face
from drawleaf.setting_out.sight import in_sight

NAME = "screw-heads"
TITLE = "Screw heads in sight"
SOURCE = "no screw head on a face that shows: common practice, no source"


def check(bench: Bench) -> Iterator[CheckResult]:
    """Advice for each line of the source with bare heads in sight; else what hides the others."""
    bare: dict[str, list[tuple[Fastener, Face]]] = {}
    plugged = filled = asked = 0
    positions = {joint.line: joint.position for joint in bench.plan.joints}
    for joint in bench.plan.joints:
        for screw in (one for one in joint.fasteners if one.item.kind in SCREWS and not one.temporary):
            asked += 1
            if not in_sight(bench.near, screw):
                continue
            if screw.plug is not None:
                plugged += 1
            elif screw.under_filler:
                filled += 1
            else:
                bare.setdefault(joint.line, []).append((screw, entered_face(screw)))
    for line, group in bare.items():
        yield _told(bench, group, positions[line])
    if asked and not bare:
        yield result(
            NAME,
            TITLE,
            Verdict.PASS,
            (),
            _hidden(asked, plugged, filled),
            what="All screws",
            figures=figures(asked=asked, plugged=plugged, filled=filled),
            source=SOURCE,
        )


def _told(bench: Bench, group: list[tuple[Fastener, Face]], position: Position) -> CheckResult:
    first, _ = group[0]
    through, into = bench.parts[first.through], bench.parts[first.into]
    sides = dict.fromkeys(f"the {face.value}" for _, face in group)
    return result(
        NAME,
        TITLE,
        Verdict.ADVICE,
        list(dict.fromkeys(bench.parts[one.through] for one, _ in group)),
        sentence(
            "The heads of {count} screws through the {through} into the {into} lie bare on {sides} of the piece."
            if len(group) > 1
            else "The head of a screw through the {through} into the {into} lies bare on {sides} of the piece.",
            count=len(group),
            through=called(through),
            into=called(into),
            sides=listed(sides),
        ),
        limit=sentence("no bare head on the front, a side or the top"),
        source=SOURCE,
        remedy=sentence(
            "Leave the screws out where glue and clamps will do, drive them from the other side with “through”, or hide them: “heads: plugged”, "
            "or “heads: filled” if filler is good enough for this piece."
        ),
        position=position,
        steps=bench.steps_with({first.through, first.into}, ("screw-holes",)),
    )


def _hidden(asked: int, plugged: int, filled: int) -> Sentence:
    ways = [
        words
        for count, words in ((plugged, "{plugged} under plugs"), (filled, "{filled} under filler, as the plan says"))
        if count
    ]
    words = "Of {asked} screws no head lies bare on the front, the sides or the top"
    return sentence(words + (f": {' and '.join(ways)}." if ways else "."), asked=asked, plugged=plugged, filled=filled)
