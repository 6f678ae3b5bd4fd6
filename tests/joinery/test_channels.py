"""Channels: grooves with play, stops and the notch they need, corners let in on two sides."""

from __future__ import annotations

import pytest

from drawleaf.joinery import FAMILIES
from drawleaf.joinery.family import Meeting, Terms, broad_side
from drawleaf.model.catalogue import Form, Material, Stock
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Part
from drawleaf.model.position import Position
from drawleaf.units import Length

HERE = Position("plan.yaml", 1, 1)
PLY = Material("ply", "Ply", Form.SHEET, "#fff", 600, False, False, None, None, None, (), (), "Sheets", "")


def inch(value: float) -> Length:
    return Length.of_inches(int(value * 64)) / 64


def part(part_id: str, thickness: Axis, x, y, z) -> Part:
    box = Box(*(Span(inch(low), inch(high)) for low, high in (x, y, z)))
    stock = Stock("ply", "Ply", PLY, "3/4", box.extent(thickness), None, (), ())
    return Part(part_id, part_id, part_id, "box", stock, thickness, None, box, box, (), None, False, HERE)


SIDE = part("side", Axis.X, (0, 0.75), (0, 10), (0, 20))


def meeting(shelf: Part, grown: Length) -> Meeting:
    contact = shelf.seen.with_span(Axis.X, Span(inch(0.75), inch(0.75)))
    body = shelf.seen.grown(Face.LEFT, grown)
    return Meeting(
        Part(**{**{name: getattr(shelf, name) for name in Part.__slots__}, "body": body}),
        SIDE,
        Face.LEFT,
        contact,
        HERE,
    )


def family(key: str):
    return next(one for one in FAMILIES if one.facts.key == key)


SHELF = part("shelf", Axis.Z, (0.75, 10), (0, 10), (5, 5.75))


def test_groove_is_deeper_than_the_tongue():
    groove, terms = family("groove"), Terms(inch(0.25), inch(0.03125))
    met = meeting(SHELF, groove.growth(meeting(SHELF, inch(0)), terms))
    assert met.insert.body.x.low.inches == 0.75 - 0.21875
    ((where, cut),) = groove.cuts(met, terms, "j")
    assert where == "side"
    assert (cut.box.x.low.inches, cut.box.x.high.inches) == (0.5, 0.75)
    assert (cut.kind, cut.into) == ("groove", Face.RIGHT)


def test_stopped_dado_notches_the_tongue():
    """Stopped 1/2 in from the front: the channel starts there, and the shelf's tongue loses its first half inch."""
    dado, terms = family("dado"), Terms(inch(0.25), stopped=((Face.FRONT, inch(0.5)),))
    met = meeting(SHELF, inch(0.25))
    (channel, notch) = dado.cuts(met, terms, "j")
    assert channel[0] == "side"
    assert (channel[1].box.y.low.inches, channel[1].box.y.high.inches) == (0.5, 10)
    assert channel[1].open == (Face.RIGHT, Face.BACK)
    assert notch[0] == "shelf"
    assert (notch[1].box.x.low.inches, notch[1].box.x.high.inches) == (0.5, 0.75)
    assert (notch[1].box.y.low.inches, notch[1].box.y.high.inches) == (0, 0.5)
    assert notch[1].box.z == SHELF.seen.z


DEPTHS = [
    ("dado", 0.25, []),
    ("dado", 0.5, []),
    ("dado", 0.75, ["too-deep"]),
    ("groove", 0.375, []),
]


@pytest.mark.parametrize(("key", "depth", "codes"), DEPTHS)
def test_depths(key, depth, codes):
    assert [one.code for one in family(key).problems(meeting(SHELF, inch(0)), Terms(inch(depth)))] == codes


def test_rabbet_needs_an_edge():
    rabbet = family("rabbet")
    top = part("top", Axis.Z, (0.75, 10), (0, 10), (19.25, 20))
    assert rabbet.problems(meeting(top, inch(0)), Terms(inch(0.5))) == ()
    (found,) = rabbet.problems(meeting(SHELF, inch(0)), Terms(inch(0.25)))
    assert found.code == "rabbet-off-edge"
    assert "5 in inside the bottom" in found.message
    ((_, cut),) = rabbet.cuts(meeting(top, inch(0.5)), Terms(inch(0.5)), "j")
    assert cut.open == (Face.RIGHT, Face.FRONT, Face.BACK, Face.TOP)


def test_a_thin_back_is_bradded_through_itself():
    rabbet = family("rabbet")
    back = part("back", Axis.Y, (0.75, 10), (9.75, 10), (0, 20))
    drive = rabbet.drive(meeting(back, inch(0.375)), None)
    assert (drive.through.id, drive.into.id, drive.head) == ("back", "side", Face.BACK)
    front = part("front", Axis.Y, (0.75, 10), (0, 0.75), (0, 20))
    drive = rabbet.drive(meeting(front, inch(0.375)), None)
    assert (drive.through.id, drive.into.id, drive.head) == ("side", "front", Face.LEFT)


def test_every_family_has_its_words():
    keys = [one.facts.key for one in FAMILIES]
    assert keys[:4] == ["butt", "dado", "groove", "rabbet"]
    assert len(set(keys)) == len(keys)
    assert all(one.facts.noun and one.facts.plural and one.facts.sits for one in FAMILIES)


@pytest.mark.parametrize(
    ("of_insert", "of_receiver", "through"),
    [(Axis.Z, Axis.X, "receiver"), (Axis.X, Axis.X, "insert"), (Axis.X, Axis.Z, "insert"), (Axis.Z, Axis.Y, "insert")],
)
def test_fasteners_go_through_the_part_that_lies_flat_on_the_other(
    of_insert: Axis, of_receiver: Axis, through: str
) -> None:
    """Along x, where they meet: through the side into the shelf's end; where both or neither lie flat there, through the insert."""
    insert = part("insert", of_insert, (0.75, 10), (0, 10), (5, 5.75))
    receiver = part("receiver", of_receiver, (0, 0.75), (0, 10), (0, 20))
    contact = insert.seen.with_span(Axis.X, Span(inch(0.75), inch(0.75)))
    assert broad_side(Meeting(insert, receiver, Face.LEFT, contact, HERE)).id == through
