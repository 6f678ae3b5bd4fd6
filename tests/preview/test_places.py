"""From what is clicked to the lines that made it."""

from __future__ import annotations

import pytest
from tests.conftest import outcome_of

from drawleaf.preview.places import Places


@pytest.fixture(scope="module")
def places() -> Places:
    outcome = outcome_of("key-ledge")
    assert outcome.derived is not None
    return Places(outcome.derived, outcome.texts)


def words(found: dict) -> list[str]:
    return [place["words"] for place in found["places"]]


def test_a_dimension_across_is_not_taken_for_one_upright(places: Places) -> None:
    """5-1/2 is how high the ledge is and how wide its board; nothing is 5-1/2 from left to right."""
    upright = words(places.find("drawing:elevation-front", "5-1/2", upright=True))
    assert "ledge.back, high" in upright
    assert "ledge.back, high" not in words(places.find("drawing:elevation-front", "5-1/2", upright=False))


def test_a_named_dimension_comes_first(places: Places) -> None:
    assert words(places.find("drawing:elevation-front", "24"))[0] == "width"


def test_a_number_in_an_exploded_view_is_a_part(places: Places) -> None:
    found = places.find("drawing:exploded-1", "1")
    assert found["title"].startswith("1 ")
    assert "plan.yaml" in found["places"][0]["file"]


def test_a_step_tells_its_joints_first(places: Places) -> None:
    step = next(step for step in places.derived.steps if any(one.joints for one in step.operations))
    joint = next(one.joints[0] for one in step.operations if one.joints)
    found = places.find(f"step:{step.id}")
    assert found["title"] == f"Step {step.number}: {step.title}"
    assert found["places"][0]["line"] == joint.position.line


def test_what_is_not_there_has_no_lines(places: Places) -> None:
    for what in ("", "part:99", "step:no-such", "drawing:nothing", "body:nobody", "what:ever"):
        assert places.find(what)["places"] == []
