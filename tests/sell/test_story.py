"""The whole story of a small case with one drawer: compiled as revision A and sold; mended as revision B, whose drawer fits its opening and whose
screws hold better; compared. Old buyers get their sheet, the next their taste, the shop its shelf.

The hand-worked list. The opening is 12 - 2 x 23/32 = 10-9/16 in wide; the drawer had 1/4 in of play on each side, and has 1/8 in.

- The box was 10-1/16 in wide and is 10-5/16 in. Its front and back reach 1/4 in into sides of 15/32 in: 9-5/8 in long before, 9-7/8 in now. Both are to be made anew.
- Its bottom reaches 7/32 in into the grooves (1/4 in less 1/32 in of play): 9-9/16 in before, 9-13/16 in now. It is to be made anew.
- Its sides only stand elsewhere: nothing of them changes. The case stays as it is, and so does the layout of its sheet; those of the two other sheets change.
- 8 screws of 1-1/2 in are left over, 8 of 1-3/4 in are bought (they come in one pack); where driven, their holes become 1/4 in deeper.
"""

from __future__ import annotations

import io
import json
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pikepdf
import pypdfium2
import pytest
from PIL import Image
from tests.sell.boxes import BOX
from tests.sell.leaking import leaks_of_page, leaks_of_pdf
from typer.testing import CliRunner

from drawleaf.cli import app

BUYERS = 200
NAME = "pencil-drawer"
PLAN = """
plan: {title: Pencil drawer, number: PD-1, date: 2026-11-24, author: R. Quill, lengths: in, revision: A, summary: A case on the desk with one drawer for pencils.}
dimensions: {width: 12, depth: 9, height: 5, play: 1/4}
stock:
  case: {material: birch plywood, nominal: 3/4, actual: 23/32}
  box: {material: birch plywood, nominal: 1/2, actual: 15/32}
  floor: {material: birch plywood, nominal: 1/4, actual: 5.2 mm}
assemblies:
  case:
    name: Case
    parts:
      side: {name: Side, stock: case, thickness: x, grain: z, left: 0, front: 0, back: depth, bottom: 0, top: height, mirror: {x: width / 2}}
      floor: {name: Floor, stock: case, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: depth, bottom: 0}
      lid: {name: Top, stock: case, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: depth, top: height}
    joints:
      - {butt: [floor, lid], to: side, with: [glue, {screws: {item: wood screw 8 x 1-1/2, count: 2}}]}
  drawer:
    component: drawer box
    name: Drawer
    loose: yes
    at: {x: case.side.right + play, y: 0, z: case.floor.top + 1/32}
    with: {wide: width - 2 * stock.case.thickness - 2 * play, deep: depth - 1/2, high: 3, box: box, floor: floor}
finish: [{sand: [120], to: all}]
film: {address: 'https://films.example/pencil-drawer', steps: {break-down-case: '0:20', assemble-case-floor: '4:05'}}
"""
EDITS = (("revision: A", "revision: B"), ("play: 1/4", "play: 1/8"), ("8 x 1-1/2", "8 x 1-3/4"))
CONSEQUENCES = """Parts
- Drawer box front; Drawer box back (2), changed: Length 9-7/8 in (it was 9-5/8 in).
    From step {cut} on.
    Make it anew: it is longer now, and wood cannot be put on. Where step {drawer} has glued it in, what it is glued to is lost with it, unless the joint can be sawn apart.
- Drawer bottom, changed: Length 9-13/16 in (it was 9-9/16 in).
    From step {cut} on.
    Make it anew: it is longer now, and wood cannot be put on.

Joints
- Floor to Left side; Floor to Right side; Top to Left side; Top to Right side (4), changed: 2 #8 x 1-3/4 in flat-head wood screws (it was 2 #8 x 1-1/2 in flat-head wood screws).
    From step {case} on.
    If they are driven, take one after the other out, deepen its pilot hole by 1/4 in and drive the longer one into it.

Hardware
- #8 x 1-3/4 in flat-head wood screw, added: 8 now (0 before).
    From step {case} of the new booklet on.
    Buy 8 more, which is 1 pack more.
- #8 x 1-1/2 in flat-head wood screw, dropped: None now (8 before).
    From step {case} on.
    Do not buy it; what is bought is left over.

Layouts
- Birch plywood, 1/2 in; Birch plywood, 1/4 in (2), changed: Their sheets or boards are laid out otherwise.
    From step {cut} on.
    If they are cut by the old layout, all parts that are not listed above still serve; else cut by the new one.

Steps
- Glue and screw the case together, and square the corners, changed: Other hardware.
    From step {case} on.
    If it is done, the parts above say what to do; else follow the new booklet.
"""
"""Every consequence, in the words of the comparison, with the steps that cut the sheets up, that put the case together, and the drawer."""


def mended(text: str, *edits: tuple[str, str]) -> str:
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def written(folder: Path, text: str) -> Path:
    folder.mkdir(parents=True)
    (folder / "plan.yaml").write_text(text, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def sold(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Revision A as a compile left it, in ``a``; the source as it stands now is revision B."""
    place = tmp_path_factory.mktemp("sold")
    source = written(place / NAME, PLAN)
    run("compile", source, "--out", place / "a")
    (source / "plan.yaml").write_text(mended(PLAN, *EDITS), encoding="utf-8")
    return place


def steps_of(folder: Path) -> list[dict[str, Any]]:
    return json.loads((folder / "plan.json").read_text(encoding="utf-8"))["steps"]


def run(*words: str | Path) -> str:
    result = CliRunner().invoke(app, [str(word) for word in words])
    assert result.exit_code == 0, result.output
    return result.stdout


def test_the_comparison_names_every_consequence_and_no_other(sold: Path) -> None:
    told = run("compare", sold / NAME, "--since", sold / "a" / NAME)
    steps = steps_of(sold / "a" / NAME)
    numbers = {
        name: next(step["number"] for step in steps if operation in {one["id"] for one in step["operations"]})
        for name, operation in (
            ("cut", "break-down-box"), ("case", "assemble-case-lid"), ("drawer", "assemble-drawer-box-back"),
        )
    }  # fmt: skip
    assert told == "Pencil drawer: revision A to revision B\n\n" + CONSEQUENCES.format(**numbers)


def test_two_hundred_buyers_get_their_copies_and_each_is_known_again(sold: Path) -> None:
    rows = "".join(f"Buyer {number},A-{number:03},2026-11-30\n" for number in range(BUYERS))
    (sold / "buyers.csv").write_text(f"name,order,date\n{rows}", encoding="utf-8")
    given = ("copies", sold / "a" / NAME, "--buyers", sold / "buyers.csv", "--out", sold / "copies")
    assert run(*given).startswith(f"{2 * BUYERS} files written")
    files = sorted((sold / "copies").iterdir())
    assert len(files) == 2 * BUYERS
    told = run("whose", *files).splitlines()
    assert told == [
        f"{file}: date: 2026-11-30; name: Buyer {int(file.stem[-3:])}; order: {file.stem[-5:]}" for file in files
    ]
    with pikepdf.open(files[-1]) as copy, pikepdf.open(sold / "a" / NAME / f"{NAME}.pdf") as before:
        assert len(copy.pages) == len(before.pages) > 10
        assert _tagged(copy) == _tagged(before) > 500
        assert b'pdfuaid:part="1"' in copy.Root.Metadata.read_bytes()
    assert run(*given).startswith("0 files written")


def _tagged(document: pikepdf.Pdf) -> int:
    """How many elements the structure tree has."""
    return sum(isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/StructElem" for one in document.objects)


def test_the_samples_have_their_pages_and_screens_and_leak_nothing(sold: Path) -> None:
    run("sample", sold / "a" / NAME, "--out", sold / "taste.pdf")
    pdf, page = ((sold / "a" / NAME / f"{NAME}{suffix}").read_bytes() for suffix in (".pdf", ".html"))
    taste, screens = (sold / "taste.pdf").read_bytes(), (sold / "taste.html").read_text(encoding="utf-8")
    assert leaks_of_pdf(pdf, taste) == []
    assert leaks_of_page(page.decode(), screens) == []
    # What looks for leaks finds one that is put in.
    assert leaks_of_page(
        page.decode(),
        screens.replace("</main>", "<p>Glue and screw the case together, and square the corners</p></main>"),
    )
    with pikepdf.open(io.BytesIO(taste)) as document:
        assert 3 < len(document.pages) <= 6
    assert _sections(screens) == [
        "cover",
        "glance",
        "tools",
        "exploded",
        "step-break-down-case",
        "step-groove-box-side",
    ]


def _sections(page: str) -> list[str]:
    found: list[str] = []
    reader = HTMLParser()

    def note(tag: str, attributes: list[tuple[str, str | None]]) -> None:
        given = dict(attributes)
        if tag == "section" and "screen" in str(given.get("class")).split():
            found.append(str(given.get("id")))

    reader.handle_starttag = note  # type: ignore[method-assign]
    reader.feed(page)
    return found


def test_the_shelf_has_what_a_listing_needs(sold: Path) -> None:
    (sold / "prices.yaml").write_text("currency: EUR\ndate: 2026-11-30\nprices: {plan: 12.50}\n", encoding="utf-8")
    run("shelf", sold / "a" / NAME, "--prices", sold / "prices.yaml", "--out", sold / "shelf")
    product, how = json.loads((sold / "shelf" / "listing.json").read_text(encoding="utf-8"))["@graph"]
    assert (product["name"], product["offers"]["price"]) == ("Pencil drawer", "12.50")
    assert [one["name"] for one in how["step"]] == [step["title"] for step in steps_of(sold / "a" / NAME)]
    text = (sold / "shelf" / "listing.txt").read_text(encoding="utf-8")
    assert "Size: 12 in wide, 9 in deep and 5 in high" in text
    names = ("piece", "exploded", "sizes", "pages-glance", "pages-cut-list", "pages-steps")
    for name in names:
        assert f"{name}-2000x2000.png: Pencil drawer" in text
        for wide, high in ((2000, 2000), (1600, 1200), (1200, 630)):
            for suffix in (".png", ".webp"):
                file = sold / "shelf" / f"{name}-{wide}x{high}{suffix}"
                assert file.stat().st_size < 1_000_000
                with Image.open(file) as picture:
                    assert picture.size == (wide, high)
                    low, most = picture.convert("L").getextrema()
                    assert low < 100 < 200 < most  # something is drawn on it


def test_a_phone_reads_the_code_of_each_filmed_step_from_the_printed_page(sold: Path) -> None:
    """The page at 150 pixels an inch, as an ordinary printer's or less."""
    zxingcpp = pytest.importorskip("zxingcpp", reason="zxing-cpp, which reads codes, is not installed")
    document = pypdfium2.PdfDocument(sold / "a" / NAME / f"{NAME}.pdf")
    found = [
        code.text
        for page in document
        for code in zxingcpp.read_barcodes(page.render(scale=150 / 72).to_pil(), zxingcpp.BarcodeFormat.QRCode)
    ]
    assert found == ["https://films.example/pencil-drawer#t=20", "https://films.example/pencil-drawer#t=245"]


def test_the_sheet_is_one_or_two_pages_and_tagged(sold: Path) -> None:
    run("errata", sold / NAME, "--since", sold / "a" / NAME, "--out", sold / "letters")
    with pikepdf.open(sold / "letters" / "errata-A-to-B.pdf") as sheet:
        assert len(sheet.pages) <= 2
        assert "/StructTreeRoot" in sheet.Root
    page = (sold / "letters" / "errata-A-to-B.html").read_text(encoding="utf-8")
    for words in ("Pencil drawer", "Drawer box front", "Drawer bottom", "Make it anew"):
        assert words in page


def test_a_revision_is_taken_from_git(tmp_path: Path) -> None:
    import shutil
    import subprocess

    if shutil.which("git") is None:
        pytest.skip("git is not installed")
    folder = tmp_path / "peg-box"
    folder.mkdir()
    (folder / "plan.yaml").write_text(BOX, encoding="utf-8")
    git = ["git", "-C", str(tmp_path), "-c", "user.name=R", "-c", "user.email=r@example.invalid"]
    for words in (["init", "-q"], ["add", "."], ["commit", "-qm", "A"]):
        subprocess.run([*git, *words], check=True, capture_output=True)
    (folder / "plan.yaml").write_text(
        mended(BOX, ("revision: A", "revision: B"), ("{x: 8}", "{x: 7-1/2}")), encoding="utf-8"
    )
    assert "revision A to revision B" in run("compare", folder, "--since", "HEAD")
    result = CliRunner().invoke(app, ["compare", str(folder), "--since", "no-such-mark"])
    assert result.exit_code == 1
    assert "git knows no such revision" in result.stderr


def test_what_is_no_revision_is_told(sold: Path) -> None:
    (sold / "note.json").write_text("{}", encoding="utf-8")
    result = CliRunner().invoke(app, ["compare", str(sold / NAME), "--since", str(sold / "note.json")])
    assert result.exit_code == 1
    assert "older drawleaf" in result.stderr


def test_a_file_that_is_no_text_is_told_by_its_own_name(sold: Path) -> None:
    (sold / "torn.json").write_bytes(b"\xff\xfe\xfa")
    for plan, since in ((sold / NAME, sold / "torn.json"), (sold / "torn.json", sold / "a" / NAME)):
        result = CliRunner().invoke(app, ["compare", str(plan), "--since", str(since)])
        assert result.exit_code == 1
        assert result.stderr.startswith(f"{(sold / 'torn.json').as_posix()}")
        assert "no plan.json of drawleaf" in result.stderr
