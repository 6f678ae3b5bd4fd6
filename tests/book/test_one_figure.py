"""One quantity, one printed figure: whatever prints it, a part's drawing, a joint's detail, a step or a list."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from drawleaf.book.output.booklet import make_html
from drawleaf.compiler import Choice, read_and_resolve, work_out
from drawleaf.draw.drawings import Desk
from drawleaf.model.derived import Derived
from drawleaf.solids.build import Solids
from drawleaf.units import Length, LengthFormat

HEAD = "plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: "
BOX = """
stock:
  ply: {material: birch plywood, nominal: 3/4 in, actual: 23/32 in}
  board: {material: maple board, size: 1x4}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 11 in, bottom: 0, top: 14 in, mirror: {x: 9 in}}
      shelf: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 11 in, bottom: 25/3 in}
      rail: {stock: board, thickness: y, full_width: z, grain: x, left: side.right, right: side.mirrored.left, back: 11 in, top: 14 in}
    joints:
      - {dado: shelf, in: side, depth: 1/4 in, with: [glue]}
      - {butt: rail, to: side, with: [glue, {screws: {count: 2, heads: filled}}]}
    machining:
      - {in: side, bore: {face: left, at: {y: 5.4 in, z: 6.7 in}, diameter: 51/64 in, depth: 13/64 in}}
    hardware:
      - {item: inset magnet 1/2 in, on: rail, face: back, at: {x: 2 in, z: 12 in}, repeat: {along: x, at: [0, 12 in]}, other_half_on: cover.flap}
  cover:
    loose: yes
    parts:
      flap: {stock: board, thickness: y, full_width: z, grain: x, left: box.side.right, right: box.side.mirrored.left, front: 11 in, top: 14 in}
checks: {waive: [{check: tip-over, reason: It is an example.}]}
"""


class Printed:
    """Every figure that was printed: by unit and exact value, the texts that it was given."""

    def __init__(self) -> None:
        self.texts: dict[tuple[str, Fraction], set[str]] = defaultdict(set)

    @property
    def twofold(self) -> dict[tuple[str, float], set[str]]:
        """The quantities that were printed in two ways."""
        return {(unit, float(value)): texts for (unit, value), texts in self.texts.items() if len(texts) > 1}

    @contextmanager
    def listening(self) -> Iterator[Printed]:
        mixed, millimetres = LengthFormat.mixed, LengthFormat.millimetres

        def in_inches(form: LengthFormat, length: Length):
            told = mixed(form, length)
            self.texts["in", abs(length.exact_mm)].add(str(told).lstrip("-"))
            return told

        def in_mm(form: LengthFormat, length: Length) -> str:
            told = millimetres(form, length)
            self.texts["mm", abs(length.exact_mm)].add(told.lstrip("-"))
            return told

        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(LengthFormat, "mixed", in_inches)
            patch.setattr(LengthFormat, "millimetres", in_mm)
            yield self


@cache
def worked_out(lengths: str) -> tuple[Derived, Solids]:
    with TemporaryDirectory() as folder:
        place = Path(folder) / "box"
        place.mkdir()
        (place / "plan.yaml").write_text(HEAD + lengths + "}" + BOX, encoding="utf-8")
        outcome, plan = read_and_resolve(place, Choice())
        assert plan is not None, outcome.diagnostics
        outcome, solids = work_out(outcome, plan, tidy=False)
    assert outcome.derived is not None, outcome.diagnostics
    assert solids is not None
    return outcome.derived, solids


@pytest.mark.parametrize("lengths", ["in", "in, units: both"])
def test_a_quantity_is_printed_in_one_way(lengths: str, drawings) -> None:
    """All that is printed of a plan is listened to: parts drawn and enlarged joints, and then the pages with their steps and lists."""
    derived, solids = worked_out(lengths)
    printed = Printed()
    with printed.listening():
        parts = {f"part-{item.number:02d}" for item in derived.cut_list.items}
        drawn = Desk(derived, solids).some({*parts, "detail", "elevation"})
        make_html(derived, drawings, for_print=True)
    assert set(drawn) == parts
    assert len(printed.texts) > 40
    assert printed.twofold == {}
