"""What is bored stands on the part drawings, measured from the sides that the steps measure from."""

from __future__ import annotations

from functools import cache

import pytest
from tests.conftest import PLANS, outcome_of, solids_of

from drawleaf.draw.at_step.bored import SCREW_HOLE, bored_for, screws_into, screws_through
from drawleaf.draw.joint.kinds import joint_kinds
from drawleaf.draw.joint.words import detail_lines
from drawleaf.draw.paper.clashes import clashes
from drawleaf.draw.paper.lettering import label, place
from drawleaf.draw.paper.style import DIMENSION
from drawleaf.draw.paper.svg import Sketch
from drawleaf.draw.part.drawing import draw_part, drawn_part
from drawleaf.draw.part.marks.all_marks import marks
from drawleaf.draw.part.marks.kinds import Mark
from drawleaf.draw.part.marks.screws import screw_marks
from drawleaf.draw.picture.lay import Lay, lay_out
from drawleaf.model.derived import Derived
from drawleaf.model.lists import CutItem
from drawleaf.model.plan import Bore, BoxCut
from drawleaf.setting_out.channels import channel_of
from drawleaf.setting_out.screws import screw_lines
from drawleaf.units import ZERO

EACH = pytest.mark.parametrize("name", PLANS)


@cache
def derived_of(name: str) -> Derived:
    derived = outcome_of(name).derived
    assert derived is not None
    return derived


def laid(derived: Derived, item: CutItem) -> Lay:
    x, y, z = derived.overall
    return lay_out(drawn_part(derived, item), (x / 2, y / 2, z / 2))


def words(mark: Mark) -> str:
    return "".join(str(piece) for piece in mark.note)


@EACH
def test_every_clearance_hole_is_in_a_drawing(name):
    """The part that is drawn has a hole for each of its screws; a slot has two, and what stands between them;
    under a plug there is the counterbore as well."""
    derived = derived_of(name)
    for item in derived.cut_list.items:
        screws = screws_through(derived.plan, item.part)
        drawn = bored_for(derived.plan, item.part, screws)
        holes = [one for one in drawn.features if isinstance(one, Bore) and one.kind == SCREW_HOLE]
        assert len(holes) == sum(2 if screw.slotted or screw.plug is not None else 1 for screw in screws)
        assert bool(screw_marks(derived, item, laid(derived, item))) == any(
            screws_through(derived.plan, part) for part in item.parts
        )


@EACH
def test_screws_are_measured_from_where_the_steps_measure(name):
    """For each line of screws of the part that is drawn, a mark from the same end and edge, with the same two distances."""
    derived = derived_of(name)
    for item in derived.cut_list.items:
        lay = laid(derived, item)
        found = screw_marks(derived, item, lay)
        for line in screw_lines(derived.plan, screws_through(derived.plan, item.part)):
            wanted = {(line.end, line.along[0]), (line.edge, line.across)}
            assert any(wanted <= measured(lay, mark) for mark in found), (item.name, line)


def measured(lay: Lay, mark: Mark):  # type: ignore[no-untyped-def]
    """Each first distance of a mark, with both sides that it could be read from; ends are told apart by what is drawn."""
    found = set()
    for toward, spans in ((lay.right, mark.across), (lay.up, mark.upright)):
        reach = lay.reach(toward)
        for low, high in spans:
            if low == ZERO:
                found.add((toward.opposite, high))
            if high == reach:
                found.add((toward, reach - low))
    return found


@EACH
def test_a_channel_is_measured_from_where_its_step_measures(name):
    derived = derived_of(name)
    checked = 0
    for item in derived.cut_list.items:
        lay = laid(derived, item)
        for cut, mark in zip(
            [one for one in lay.part.features if isinstance(one, BoxCut) and one.kind != "slot"],
            [one for one in marks(derived, lay) if " wide, " in words(one) or "right through" in words(one)],
            strict=False,
        ):
            channel = channel_of(lay.part, cut) if cut.kind in ("dado", "groove") else None
            if channel is not None and channel.offset > ZERO:
                assert (channel.edge, channel.offset) in measured(lay, mark)
                checked += 1
    assert checked or name != "boot-bench"


@EACH
def test_nothing_else_is_cut_is_true(name):
    """The sentence stands only where there are no features, no holes for screws, and nothing is bored at assembly."""
    derived = derived_of(name)
    solids = solids_of(name)
    for item in derived.cut_list.items:
        said = draw_part(derived, solids, item)[0].alt
        worked = any(part.features or screws_through(derived.plan, part) for part in item.parts)
        later = any(screws_into(derived.plan, part) for part in item.parts)
        if "nothing else is cut into it" in said:
            assert not worked
            assert not later
        if later:
            assert "At assembly: pilot holes" in said
        assert ("Cut to size" in said) <= (not worked)


def test_rows_of_pins_are_counted_and_level():
    """Two rows of seven, not seven holes; the same distances from the front on both sides of the bay."""
    derived = derived_of("boot-bench")
    upright = {}
    for item in derived.cut_list.items:
        lay = laid(derived, item)
        for mark in marks(derived, lay):
            if "shelf-pin" in words(mark):
                assert words(mark).startswith("2 rows of 7 shelf-pin holes")
                rows = mark.upright if lay.up.axis.value == "y" else mark.across
                reach = lay.reach(lay.up if lay.up.axis.value == "y" else lay.right)
                ends = {min(high, reach - low) for low, high in rows} | {high - low for low, high in rows}
                upright[item.name] = max(high - low for low, high in rows)
                assert ends
    assert len(upright) == 2
    assert len(set(upright.values())) == 1


def test_parts_that_are_bored_differently_have_drawings_of_their_own():
    """Both top rails are sawn alike; one has round holes for the seat, the other slots. Each has its number and its notes."""
    derived = derived_of("boot-bench")
    notes = {
        item.name: " ".join(words(mark) for mark in screw_marks(derived, item, laid(derived, item)))
        for item in derived.cut_list.items
        if "top rail" in item.name
    }
    assert set(notes) == {"Front top rail", "Back top rail"}
    assert "slots" in notes["Back top rail"]
    assert "slots" not in notes["Front top rail"]
    assert "clearance holes" in notes["Front top rail"]
    assert not any(" only)" in note for note in notes.values())


def test_a_taper_is_told_as_it_is_drawn_on_the_wood():
    """The wedge of the trestle table: 36 wide, 12 off at one end. An angle alone would leave the buyer to reckon."""
    derived = outcome_of("trestle-table").derived
    assert derived is not None
    item = next(item for item in derived.cut_list.items if item.name == "Wedge")
    (note,) = [words(mark) for mark in marks(derived, laid(derived, item))]
    assert note == "Left edge: taper, 12 off at the back end, which leaves 24; begun at the front end; slope 4.9°"


def test_a_plugged_joint_is_not_made_like_one_with_flush_heads():
    """The ledge's brackets are screwed to the back board flush, and to the shelf under plugs: two details, and the second says so."""
    derived = derived_of("key-ledge")
    told = {
        (kind.joint.insert, kind.joint.receiver): " ".join(
            "".join(map(str, line)) for line in detail_lines(derived, kind)
        )
        for kind in joint_kinds(derived.plan)
    }
    assert "face-grain plugs" not in told["ledge.shelf", "ledge.back"]
    assert "face-grain plugs" in told["ledge.bracket", "ledge.shelf"]


def test_the_note_of_a_plugged_hole_gives_the_counterbore():
    derived = derived_of("key-ledge")
    (item,) = (item for item in derived.cut_list.items if item.name == "Shelf")
    notes = {words(mark) for mark in screw_marks(derived, item, laid(derived, item))}
    assert len(notes) == 1, "one note for both ends"
    assert "counterbored on the top face" in next(iter(notes))
    assert "for a plug" in next(iter(notes))


def test_words_upon_each_other_and_struck_through_are_counted():
    """By which a part drawing finds the first arrangement that can be read."""
    sketch = Sketch()
    place(sketch, label("12"), (0.0, 0.0))
    place(sketch, label("34"), (20.0, 0.0))
    assert clashes(sketch) == 0
    place(sketch, label("56"), (21.0, 0.5))
    assert clashes(sketch) == 1
    sketch.line(DIMENSION, (-5.0, -1.0), (8.0, -1.0))
    assert clashes(sketch) == 2
