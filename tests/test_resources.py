"""Where templates, shared data and fonts are found, and how an author's own join in."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawleaf import resources
from drawleaf.codes.samples import CRATE
from drawleaf.compiler import Choice, check_plan, lent_line
from drawleaf.resources import SHARED_PARTS, font_files, product_folder, shared_folders, template_folders


def plan_in(folder: Path) -> Path:
    plan = folder / "plans" / "stool"
    plan.mkdir(parents=True)
    return plan


def test_the_product_s_own_data_is_found() -> None:
    own = product_folder("shared")
    for part in SHARED_PARTS:
        assert (own / part).is_dir() or (own / f"{part}.yaml").is_file(), part


def test_without_an_author_s_folder_only_ours_is_read(tmp_path: Path) -> None:
    assert shared_folders(plan_in(tmp_path)) == (product_folder("shared"),)
    assert shared_folders() == (product_folder("shared"),)


def test_the_author_s_shared_folder_comes_after_ours(tmp_path: Path) -> None:
    plan = plan_in(tmp_path)
    mine = tmp_path / "shared"
    (mine / "materials").mkdir(parents=True)
    (mine / "materials" / "elm.yaml").write_text("{}", encoding="utf-8")
    assert shared_folders(plan) == (product_folder("shared"), mine.resolve())


def test_the_nearest_shared_folder_wins(tmp_path: Path) -> None:
    plan = plan_in(tmp_path)
    for folder in (tmp_path / "shared", tmp_path / "plans" / "shared"):
        folder.mkdir()
        (folder / "prices.yaml").write_text("{}", encoding="utf-8")
    assert shared_folders(plan)[-1] == (tmp_path / "plans" / "shared").resolve()


def test_a_folder_that_only_bears_the_name_is_passed_over(tmp_path: Path) -> None:
    plan = plan_in(tmp_path)
    (tmp_path / "shared").mkdir()
    (tmp_path / "shared" / "holiday.jpg").write_bytes(b"")
    (tmp_path / "templates").mkdir()
    (tmp_path / "templates" / "letter.odt").write_bytes(b"")
    assert shared_folders(plan) == (product_folder("shared"),)
    assert template_folders(plan) == (product_folder("templates"),)


def test_the_author_s_templates_come_before_ours(tmp_path: Path) -> None:
    own = product_folder("templates")
    sample = next(file for file in sorted(own.rglob("*")) if file.is_file()).relative_to(own)
    mine = tmp_path / "templates" / sample
    mine.parent.mkdir(parents=True)
    mine.write_text("", encoding="utf-8")
    assert template_folders(plan_in(tmp_path)) == ((tmp_path / "templates").resolve(), own)


def test_the_upright_font_comes_first() -> None:
    upright, italic = font_files()
    assert "italic" not in upright.name.lower()
    assert "italic" in italic.name.lower()
    assert upright.read_bytes()[:4] == b"\x00\x01\x00\x00"


# Folders above the plan, and who may lend them.


def lend(folder: Path) -> tuple[Path, Path]:
    """A ``shared`` and a ``templates`` folder that drawleaf would use."""
    shared, templates = folder / "shared", folder / "templates"
    (shared / "components").mkdir(parents=True)
    (shared / "prices.yaml").write_text("prices: {}", encoding="utf-8")
    (templates / "steps").mkdir(parents=True)
    (templates / "steps" / "join.j2").write_text("do: Join them.", encoding="utf-8")
    return shared, templates


def test_folders_above_the_plan_are_named(tmp_path: Path) -> None:
    plan = plan_in(tmp_path)
    assert lent_line(plan) is None
    shared, templates = lend(tmp_path)
    assert lent_line(plan) == f"stool: draws also on {shared} and {templates}"
    lend(plan)
    assert lent_line(plan) is None, "they are part of the plan"


def test_folders_of_another_user_are_refused_and_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    plan = plan_in(tmp_path)
    (plan / "plan.yaml").write_text(CRATE, encoding="utf-8")
    shared, templates = lend(tmp_path)
    nearer = tmp_path / "plans" / "templates" / "steps"
    nearer.mkdir(parents=True)
    (nearer / "join.j2").write_text("do: Glue them.", encoding="utf-8")
    owners = {shared: 4321, nearer.parent: 4321}
    monkeypatch.setattr(resources.os, "geteuid", lambda: 1000)
    monkeypatch.setattr(resources, "_owner", lambda folder: owners.get(folder, 1000))
    assert shared_folders(plan) == (product_folder("shared"),)
    assert template_folders(plan)[0] == templates
    told = [one for one in check_plan(plan, Choice()).diagnostics if one.code == "foreign-folder"]
    assert [one.is_error for one in told] == [False, False]
    assert all(str(folder) in one.message for folder, one in zip(owners, told, strict=True))
    assert str(shared) in told[0].mend
    assert lent_line(plan) == f"stool: draws also on {templates}"


@pytest.mark.parametrize("owner", [1000, 0, 2000])
def test_you_the_plans_owner_and_the_system_may_lend(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, owner: int
) -> None:
    plan = plan_in(tmp_path)
    shared, templates = lend(tmp_path)
    monkeypatch.setattr(resources.os, "geteuid", lambda: 1000)
    monkeypatch.setattr(resources, "_owner", lambda folder: 2000 if folder == plan else owner)
    assert shared_folders(plan)[-1] == shared
    assert template_folders(plan)[0] == templates
