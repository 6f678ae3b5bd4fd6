"""Parts that are joined fast are one body: a top on two rails of one frame is held, and boards glued side by side move as one."""

from __future__ import annotations

import pytest

from drawleaf.model.checks import Verdict

TABLE = """
stock:
  oak: {{material: red oak board, size: 1x6}}
  rail: {{material: red oak board, size: 1x4}}
  leg: {{material: red oak board, size: 1x3}}
assemblies:
  base:
    parts:
      leg: {{stock: leg, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 600 mm, mirror: {{x: 400 mm}}}}
      rear: {{stock: leg, thickness: x, full_width: y, grain: z, left: 0, back: {deep} mm, bottom: 0, top: 600 mm, mirror: {{x: 400 mm}}}}
      fr: {{stock: rail, thickness: z, full_width: y, grain: x, left: leg.right, right: leg.mirrored.left, front: 10 mm, top: 600 mm}}
      br: {{stock: rail, thickness: z, full_width: y, grain: x, left: rear.right, right: rear.mirrored.left, back: {deep} mm - 10 mm, top: 600 mm}}
      end: {{stock: rail, thickness: x, full_width: z, grain: y, left: 0, front: leg.back, back: rear.front, top: 600 mm, mirror: {{x: 400 mm}}}}
    joints:
      - {{butt: fr, to: leg, with: [glue]}}
      - {{butt: br, to: rear, with: [glue]}}
      {ends}
  seat:
    parts:
      top: {{stock: oak, thickness: z, grain: x, left: 0, right: 800 mm, front: 0, back: {deep} mm, bottom: 600 mm, glue_up: {{strips: {strips}}}}}
    joints:
      - {{butt: top, to: base.fr, with: [{front}]}}
      - {{butt: top, to: base.br, with: [{back}]}}
"""
ENDS = "- {butt: end, to: [leg, rear], with: [glue, {dowels: {count: 2}}]}"
UNTIED = "- {butt: end, to: [leg, rear], with: []}"
FAST = "{screws: {count: 3, through: base}}"
SLIDES = "{screws: {count: 3, through: base, slots: yes, item: pan-head screw 8 x 1-1/4}}"


def of_the_top(checked, *, ends: str = ENDS, front: str = FAST, back: str = FAST, deep: int = 280) -> Verdict:
    outcome = checked(TABLE.format(deep=deep, strips=deep // 130 + 1, ends=ends, front=front, back=back))
    assert outcome.derived is not None, outcome.diagnostics
    told = [one for one in outcome.derived.checks if one.check == "wood-movement" and "seat.top" in one.parts]
    return max((one.verdict for one in told), key=list(Verdict).index)


@pytest.mark.parametrize(
    ("ends", "front", "back", "verdict"),
    [
        (ENDS, "glue", "glue", Verdict.STOP),
        (ENDS, FAST, FAST, Verdict.ADVICE),
        (ENDS, FAST, SLIDES, Verdict.PASS),
        (UNTIED, FAST, FAST, Verdict.PASS),
    ],
)
def test_a_top_on_two_rails(checked, ends: str, front: str, back: str, verdict: Verdict) -> None:
    """Of oak, on rails some 170 mm apart, screwed, it advises, and some 370 mm, glued, it stops; slots at the back free it, and so do rails
    that nothing ties."""
    deep = 480 if front == "glue" else 280
    assert of_the_top(checked, ends=ends, front=front, back=back, deep=deep) is verdict


BLOCK = """
stock:
  oak: {{material: red oak board, size: 1x4}}
  bar: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
assemblies:
  block:
    parts:
      strip: {{stock: oak, thickness: y, full_width: z, grain: x, left: 0, right: 600 mm, front: 0, top: 100 mm, repeat: {{along: y, spacing: 19.05 mm, count: {count}}}}}
      bar: {{stock: bar, thickness: x, grain: y, left: 100 mm, front: 0, back: {count} * 19.05 mm, high: 60 mm, top: strip.1.bottom, repeat: {{along: x, at: [0, 300]}}}}
    joints:
      - {{butt: strip, to: strip, with: [glue]}}
      - {{butt: strip, to: bar, with: [{held}]}}
"""


@pytest.mark.parametrize(
    ("count", "held", "verdict"),
    [(16, "glue", Verdict.STOP), (2, "glue", Verdict.PASS)],
)
def test_strips_glued_side_by_side_move_as_one(checked, count: int, held: str, verdict: Verdict) -> None:
    """Sixteen strips of 19 mm are a board of 305 mm across the grain; each by itself would pass on any rail."""
    outcome = checked(BLOCK.format(count=count, held=held))
    assert outcome.derived is not None, outcome.diagnostics
    told = [one for one in outcome.derived.checks if "boards with the" in one.words.template]
    assert [one.verdict for one in told] == [verdict]
    assert dict(told[0].words.values)["count"] == count
    assert dict(told[0].words.values)["width"].mm == pytest.approx(count * 19.05)
