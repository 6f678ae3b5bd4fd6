"""Two revisions compared: what changed, from which step on it matters, and what to do with what is made. Figures worked out by hand."""

from __future__ import annotations

import json
from fractions import Fraction

from tests.sell.boxes import BOX, changed, compiled
from tests.small_plans import derived_from

from drawleaf.book.output.data import plan_json
from drawleaf.sell.change import Change, Kind, Subject
from drawleaf.sell.comparing import compare
from drawleaf.sell.piece import compiled_from
from drawleaf.sell.remaking import Fate
from drawleaf.sell.telling import as_json, as_text

INCH = Fraction(127, 5)


def changes(*edits: tuple[str, str]) -> tuple[Change, ...]:
    return compare(compiled(), changed(*edits))


def of(found: tuple[Change, ...], subject: Subject, name: str) -> Change:
    return next(one for one in found if one.subject is subject and name in one.names)


def test_a_revision_that_changes_nothing_of_the_piece_says_so() -> None:
    assert changes() == ()
    assert "Nothing of the piece has changed." in as_text(compiled(), changed(), ())


def test_a_part_that_is_shorter_is_trimmed_and_one_that_is_longer_is_made_anew() -> None:
    """Sides half an inch nearer: 1 in off front and shelf. An inch farther apart: 2 in are missing."""
    shorter = of(changes(("{x: 8}", "{x: 7-1/2}")), Subject.PART, "Front")
    assert shorter.verdict is not None
    assert shorter.verdict.fate is Fate.TRIM
    assert [trim.off for trim in shorter.verdict.trims] == [INCH]
    assert "Length 13-1/2 in (it was 14-1/2 in)." in shorter.what
    assert shorter.old_step is not None
    assert shorter.old_step.number == 1
    longer = of(changes(("{x: 8}", "{x: 9}")), Subject.PART, "Front")
    assert longer.verdict is not None
    assert longer.verdict.fate is Fate.REMAKE
    assert longer.todo.startswith("Make it anew: it is longer now")
    assert "Where step 7 has glued it in" in longer.todo


def test_a_part_is_trimmed_at_the_end_that_leaves_its_joints_in_place() -> None:
    """The dado lies behind the front, 1-1/2 in from the low end of the side: the back end is the one to trim. Moved with the front end, it is the other."""
    back = of(changes(("deep: 12", "deep: 11")), Subject.PART, "Left side")
    assert back.verdict is not None
    assert [(trim.face, trim.off) for trim in back.verdict.trims] == [("back", INCH)]


def test_what_is_only_added_is_cut_into_the_old_part() -> None:
    """Three screws a side for two: one more hole in a side where the two others stay; they do not stay, so old holes are plugged."""
    deeper = of(changes(("depth: 1/4", "depth: 3/8")), Subject.PART, "Left side")
    assert deeper.verdict is not None
    assert deeper.verdict.fate is Fate.ADD
    assert [one.kind for one in deeper.verdict.more] == ["dado"]
    assert deeper.todo == "It still fits. Then cut what is new in it: 1 dado."
    assert deeper.count == 2
    more = of(changes(("count: 2", "count: 3")), Subject.PART, "Left side")
    assert more.verdict is not None
    assert more.verdict.fate in (Fate.ADD, Fate.PLUG)


def test_a_channel_that_is_elsewhere_now_spoils_the_part() -> None:
    moved = of(changes(("deep: 5, bottom: 2", "deep: 5, bottom: 2-1/2")), Subject.PART, "Left side")
    assert moved.verdict is not None
    assert moved.verdict.fate is Fate.REMAKE
    assert "its old dado would stay open" in moved.todo


def test_longer_screws_are_bought_and_driven_into_deeper_holes() -> None:
    found = changes(("8 x 1-1/2", "8 x 1-3/4"))
    bought = of(found, Subject.HARDWARE, "#8 x 1-3/4 in flat-head wood screw")
    assert bought.kind is Kind.ADDED
    assert "Buy 4 more" in bought.todo
    joint = next(one for one in found if one.subject is Subject.JOINT)
    assert joint.count == 2
    assert "deepen its pilot hole by 1/4 in" in joint.todo
    assert joint.old_step is not None
    assert joint.old_step.title == "Glue and screw the box together"
    assert not [one for one in found if one.subject is Subject.PART]


def test_a_renamed_part_is_known_by_its_place_and_shape() -> None:
    edits = ((" front: {name: Front", " face: {name: Face"), ("butt: front", "butt: face"), ("front.back", "face.back"))
    found = changes(*edits)
    renamed = of(found, Subject.PART, "Face")
    assert renamed.kind is Kind.RENAMED
    assert renamed.what == "It was called “Front”."
    assert not [one for one in found if one.kind in (Kind.ADDED, Kind.DROPPED) and one.subject is Subject.PART]


def test_a_new_caution_stands_first_and_is_for_safety() -> None:
    """Shorter sides are cut off small: their step brings a warning that the first revision had not."""
    found = changes(("deep: 12", "deep: 11"))
    assert found[0].safety
    assert found[0].subject is Subject.CAUTION
    text = as_text(compiled(), compiled(BOX.replace("deep: 12", "deep: 11")), found)
    assert text.index("Safety") < text.index("Parts")


def test_the_data_say_what_the_text_says() -> None:
    found = changes(("{x: 8}", "{x: 7-1/2}"))
    data = json.loads(as_json(compiled(), changed(("{x: 8}", "{x: 7-1/2}")), found))
    row = next(one for one in data["changes"] if one["name"] == "Front")
    assert (row["fate"], row["trims"]) == ("trim", [{"face": "right", "mm": 25.4}])
    assert row["old_step"]["number"] == 1
    assert data["new"]["revision"] == "B"


def test_whoever_bought_by_the_old_list_buys_more_only_where_something_is_made_anew() -> None:
    """Sides 12 in apart want less wood, all of it trimmed off what is there; sides 60 in apart want longer boards for a new front and shelf."""
    less = next(one for one in changes(("{x: 8}", "{x: 6}"), ("deep: 12", "deep: 6")) if one.subject is Subject.STOCK)
    assert less.todo == "If you bought by the old list you have enough: nothing of it is new or made anew."
    more = next(one for one in changes(("{x: 8}", "{x: 30}")) if one.subject is Subject.STOCK)
    assert "buy" in more.todo
    assert "made anew" in more.todo
    assert "1x6" in more.what


def test_stocks_that_are_laid_out_otherwise_are_told_in_one_line() -> None:
    found = [one for one in changes(("{x: 8}", "{x: 7-1/2}")) if one.subject is Subject.LAYOUT]
    assert [one.name for one in found] == ["Pine board, 1x6"]


def test_things_that_changed_alike_are_told_in_one_with_each_name_once() -> None:
    """Names are the author's: one with a semicolon in it stays whole."""
    rail, other = (Change(Subject.PART, Kind.CHANGED, (name,), "Shorter.", "Trim it.") for name in ("Rail; top", "Leg"))
    together = rail.and_also(other).and_also(rail)
    assert (together.names, together.name, together.count) == (("Rail; top", "Leg"), "Rail; top; Leg", 3)


def test_a_slope_is_no_length() -> None:
    """Both are exact in the data; only what has millimeters is told as a length."""
    data = json.loads(plan_json(derived_from(BOX)))
    data["steps"][0]["operations"][0]["settings"] = [
        {"name": "slope", "value": {"exact": "1/7", "value": 0.142857}},
        {"name": "depth", "value": {"exact": "127/5", "mm": 25.4}},
        {"name": "count", "value": 3},
    ]
    values = [one.value for one in compiled_from(json.dumps(data)).steps[0].settings[:3]]
    assert isinstance(values[0], str)
    assert values[1:] == [INCH, 3]
