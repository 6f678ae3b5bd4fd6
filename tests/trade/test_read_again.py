"""What a reader of the trade found in finished booklets, rule by rule, each on two small plans."""

from __future__ import annotations

from tests.shape_trials import words_in
from tests.small_plans import derived_from
from tests.trade.rule import HEAD

from drawleaf.model.plan import Bore, Plan

CASE = """
stock:
  side: {material: %s}
  rail: {material: red oak board, size: 1x4}
  moulding: {material: red oak board, size: 1x3, profile: cove}
profiles:
  cove: {cove: 9, step: 3}
assemblies:
  case:
    parts:
      side: {stock: side, thickness: x, grain: z, left: 0, front: 0, back: 230, bottom: 0, top: 400, mirror: {x: 250}}
      deck: {stock: side, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 230, bottom: 100}
      kick: {stock: rail, thickness: y, full_width: z, grain: x, left: 0, right: side.mirrored.right, back: 0, bottom: 0}
    joints:
      - {dado: deck, in: side, depth: 6, with: [glue, {brads: {count: 3}}]}
      - {butt: kick, to: side, with: [glue, {brads: {count: 2}}]}
  ends:
    parts:
      end: {stock: moulding, thickness: x, full_width: z, grain: y, right: 0, front: cover.board.front, back: 230, bottom: 0, mirror: {x: 250}}
    joints: [{butt: end, to: case.side, with: [glue, {brads: {count: 2}}]}]
  cover:
    loose: yes
    parts:
      board: {stock: moulding, thickness: y, full_width: z, grain: x, left: ends.end.left, right: ends.end.mirrored.right, back: case.kick.front, bottom: 0}
    joints: [{mitre: board, to: ends.end}]
%s
finish:
  - {sand: %s, to: all}
  - {apply: %s, to: case}
"""
MAGNETS = "    hardware: [{item: inset magnet 1/2 in, on: case.kick, face: front, at: {x: 60, z: 32}, other_half_on: board}]\n"
PLY = "birch plywood, nominal: 18 mm, actual: 18 mm"
BARE, BORED = "", MAGNETS


def case(more: str = BORED, wood: str = PLY, sand: str = "[120, 180]", apply: str = "danish oil") -> str:
    return HEAD + CASE % (wood, more, sand, apply)


def test_a_recess_measured_from_a_mitre_is_bored_when_the_mitre_is_cut() -> None:
    """Before, the moulding is an inch too long, and nobody knows where its end will be. A moulding with no hole is worked on with the others."""
    bored = derived_from(case())
    fitted = next(step.number for step in bored.steps if step.id == "mitre-cover")
    mine = [
        step
        for step in bored.steps
        for op in step.operations
        if "cover.board" in op.parts and any(isinstance(f, Bore) for _, f in op.features)
    ]
    assert mine
    assert all(step.number > fitted for step in mine)
    plain = derived_from(case(BARE))
    sanded = {
        part: step.number
        for step in plain.steps
        for op in step.operations
        if op.kind == "sand-parts"
        for part in op.parts
    }
    fitted = next(step.number for step in plain.steps if step.id == "mitre-cover")
    assert sanded["cover.board"] < fitted


def marked_from(plan: Plan, part: str) -> set[str]:
    fitted = plan.part(part).fitted
    assert fitted is not None
    return set(fitted.marked_from)


def test_a_moulding_that_comes_off_is_marked_from_what_it_lies_against() -> None:
    """Nothing joins the cover to the kick board; it is held against it for all that."""
    plan = derived_from(case(BARE)).plan
    assert "case.kick" in marked_from(plan, "cover.board")
    assert marked_from(plan, "cover.board") >= {"case.side", "case.side.mirrored"}


def test_plywood_is_begun_with_a_finer_grit() -> None:
    """Solid wood is not, nor is a schedule that begins fine."""
    told = {
        name: "face veneer" in " ".join(words_in(derived_from(source), "sand-parts"))
        for name, source in {
            "ply": case(),
            "solid": case(wood="red oak board, size: 1x10", more=BARE),
            "fine": case(sand="[150, 180]"),
        }.items()
    }
    assert told == {"ply": True, "solid": False, "fine": False}


def test_filler_under_stain_is_tried_first() -> None:
    """The case is nailed and stained. Under oil nothing is said."""
    stained = " ".join(words_in(derived_from(case(BARE, apply="gel stain walnut")), "fill-and-sand"))
    oiled = " ".join(words_in(derived_from(case(BARE)), "fill-and-sand"))
    assert "Filler does not take stain" in stained
    assert "Filler does not take stain" not in oiled
    assert "brad holes" in oiled


CHEST = """
stock:
  ply: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
  thin: {material: birch plywood, nominal: 6 mm, actual: 6 mm}
  rail: {material: maple board, size: 1x2}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: 300, mirror: {x: 200}}
      deck: {stock: ply, thickness: z, grain: x, between: side, front: 0, back: back.front, bottom: 30}
      rail: {stock: rail, thickness: z, full_width: y, grain: x, between: side, front: 0, bottom: 140}
      runner: {stock: rail, thickness: z, full_width: x, grain: y, left: side.right, front: rail.back, back: back.front, bottom: 140, mirror: {x: 200}}
      back: {stock: thin, thickness: y, grain: x, between: side, back: 300, bottom: deck.bottom, top: 300}
    joints:
      - {rabbet: back, in: side, depth: 9, with: [glue, {brads: every 100}]}
      - {dado: deck, in: side, depth: 6, with: [glue]}
      - {butt: rail, to: side, with: [glue, {dowels: 2}]}
      - {butt: runner, to: side, with: [glue, {screws: {count: 2, through: side, heads: filled}}]}
    hardware:
      - {item: %s, on: deck, face: front, at: {middle_of: deck}}
"""
KNOB, PULL = "knob", "cup pull"


def test_a_strip_is_marked_from_what_stands_and_to_where_the_rest_will_come() -> None:
    """The back goes in after the runners: nobody can hold a runner against it."""
    derived = derived_from(HEAD + CHEST % PULL)
    said = " ".join(words_in(derived, "fit-runner"))
    assert "against the rail" in said
    assert "Mark with a sharp pencil where the back 4 will come" in said


def test_a_knob_is_bored_through_for_and_a_pull_screwed_on() -> None:
    """A knob has no long side and no screw holes."""
    told = {item: " ".join(words_in(derived_from(HEAD + CHEST % item), "fit-pull")) for item in (KNOB, PULL)}
    assert "right through" in told[KNOB]
    assert "long side level" not in told[KNOB]
    assert "long side level" in told[PULL]
