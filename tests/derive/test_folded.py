"""Steps that are one piece of work are told once: stops, mortises and holes of twins in one step; bodies that meet dry, one after the other."""

from __future__ import annotations

from tests.conftest import outcome_of

from drawleaf.derive.operations.drafts import title_names


def steps_of(name: str) -> list[tuple[str, list[str]]]:
    derived = outcome_of(name).derived
    assert derived is not None
    return [(step.title, [op.kind for op in step.operations]) for step in derived.steps]


def test_all_stops_of_one_saw_are_one_step() -> None:
    cutting = [kinds for _, kinds in steps_of("boot-bench") if "crosscut" in kinds]
    assert [len(kinds) for kinds in cutting] == [8]


def test_clearance_holes_and_slots_of_a_case_are_one_step() -> None:
    """Titles name no more than three kinds of part: here the assembly that they are of."""
    (drilled, _) = [title for title, kinds in steps_of("boot-bench") if "screw-holes" in kinds]
    assert drilled == "Drill the screw holes in the parts of the case"


def test_what_twin_frames_have_alike_is_worked_in_one_step() -> None:
    """The front and the back frame of the stool are cut and bored at the same settings."""
    steps = steps_of("step-stool")
    assert [title for title, kinds in steps if "angle-ends" in kinds] == [
        "Cut the angled ends of the legs and aprons",
        "Cut the angled ends of the side aprons and braces",
    ]
    assert [title for title, kinds in steps if "dowel-holes" in kinds] == [
        "Bore the dowel holes in the legs and aprons",
        "Bore the dowel holes in the side aprons and braces",
    ]


def test_bodies_that_go_together_dry_share_a_step_where_one_drawing_shows_both() -> None:
    """The stretcher and the second trestle come the same way and would be drawn as one; the wedges come across."""
    dry = [(title, len(kinds)) for title, kinds in steps_of("trestle-table") if set(kinds) == {"join-body"}]
    assert dry == [
        ("Fit the stretcher to one trestle", 1),
        ("Fit the other trestle to the stretcher, and add the wedges", 2),
    ]


def test_a_title_names_a_family_of_parts_by_its_name() -> None:
    derived = outcome_of("step-stool").derived
    assert derived is not None
    aprons = [part for part in derived.plan.parts if part.name.endswith("apron")]
    assert title_names(aprons) == "aprons"
    assert title_names(aprons[:2]) in ("front and side aprons", "front and back aprons")
