"""Where templates, shared data and fonts are found, and how an author's own join in."""

from __future__ import annotations

from pathlib import Path

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
