"""The shop shelf: texts that escape, data that parse, a price only where the author wrote one, pictures of the sizes that shops ask for."""

from __future__ import annotations

import base64
import io
import json
from pathlib import Path

import pypdfium2
import pytest
from PIL import Image
from tests.sell.booklets import compiled_folder
from tests.sell.boxes import BOX
from tests.small_plans import derived_from
from typer.testing import CliRunner

from drawleaf.book.output.data import plan_json
from drawleaf.book.output.pdf import make_pdf
from drawleaf.cli import app
from drawleaf.sell.author_prices import PricesError, read_price
from drawleaf.sell.cover_picture import cover_picture
from drawleaf.sell.listing import as_data, as_markdown, as_text, make_listing
from drawleaf.sell.on_sale import OnSale, on_sale_from
from drawleaf.sell.shelf import MOST, ShelfError, _fullest, shelf_files

PRICES = "currency: EUR\ndate: 2026-11-30\nprices: {plan: 12.50, metric: 11}\n"
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20" width="40mm" height="20mm"><rect width="40" height="20" fill="#b3541e"/></svg>'


def data(text: str = BOX) -> OnSale:
    return on_sale_from(plan_json(derived_from(text)))


@pytest.fixture
def price(tmp_path: Path):
    file = tmp_path / "prices.yaml"
    file.write_text(PRICES, encoding="utf-8")
    return file


def test_the_texts_say_the_figures_of_the_plan() -> None:
    """Sixteen inches from middle to middle of the mirror, twelve deep, four high; three parts and a copy."""
    said = as_text(make_listing(data(), 83, None), ())
    assert "Size: 16 in wide, 12 in deep and 4 in high" in said
    assert "Parts: 4 pieces in " in said
    assert "PDF to print, 83 pages on Letter" in said
    assert "Price" not in said


def test_a_price_is_there_only_where_the_author_wrote_one(price: Path) -> None:
    bare = json.loads(as_data(make_listing(data(), 83, None), ()))
    assert "offers" not in bare["@graph"][0]
    product, how = json.loads(as_data(make_listing(data(), 83, read_price(price, None)), ()))["@graph"]
    assert product["offers"] == {"@type": "Offer", "price": "12.50", "priceCurrency": "EUR", "validFrom": "2026-11-30"}
    assert read_price(price, "metric").text == "11.00 EUR"
    assert (product["@type"], how["@type"]) == ("Product", "HowTo")
    assert [one["name"] for one in how["step"]] == [
        step["title"] for step in json.loads(plan_json(derived_from(BOX)))["steps"]
    ]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("12.50", "has not the keys"),
        (PRICES.replace("EUR", "euros"), "no currency"),
        (PRICES.replace("2026-11-30", "today"), "no date"),
        (PRICES.replace("12.50", "cheap"), "no price"),
        (PRICES.replace("12.50", "12.505"), "no price"),
        (PRICES.replace("plan:", "inch:"), "no price for “plan”"),
        (PRICES.replace("12.50", "1e30"), "no price"),
        ("a: [", "cannot be read"),
    ],
)
def test_a_file_of_prices_that_cannot_be_used_says_what_to_write(text: str, told: str, price: Path) -> None:
    price.write_text(text, encoding="utf-8")
    with pytest.raises(PricesError, match=told):
        read_price(price, None)


def test_an_authors_marks_do_nothing_in_markdown() -> None:
    plan = data(BOX.replace("title: Peg box", "title: 'Peg *box* <script>[x](y)'"))
    said = as_markdown(make_listing(plan, 3, None), ())
    assert "\\*box\\*" in said
    assert "<script>" not in said.replace("\\<script\\>", "")


def test_pictures_have_the_sizes_that_are_asked_for_and_are_light(tmp_path: Path) -> None:
    folder = compiled_folder(tmp_path / "peg-box")
    (folder / "plan.json").write_text(plan_json(derived_from(BOX)), encoding="utf-8")
    (folder / "drawings").mkdir()
    (folder / "drawings" / "cover.svg").write_text(SVG, encoding="utf-8")
    files = dict(shelf_files(folder, sizes=((300, 300), (120, 63))))
    assert {
        "piece-300x300.png",
        "piece-300x300.webp",
        "piece-120x63.png",
        "listing.txt",
        "listing.md",
        "listing.json",
    } <= set(files)
    for name, picture in files.items():
        if name.endswith((".png", ".webp")):
            size = "x".join(map(str, Image.open(io.BytesIO(picture)).size))
            assert name.rsplit(".", 1)[0].endswith(size)
            assert len(picture) < MOST
    red, *_ = Image.open(io.BytesIO(files["piece-300x300.png"])).convert("RGB").getpixel((150, 150))  # type: ignore[misc]
    assert red > 150
    assert "piece-300x300.png" in files["listing.json"].decode()


def test_the_piece_is_the_picture_on_the_cover_where_the_plan_has_one(tmp_path: Path) -> None:
    """A green picture, twice as wide as high, in a frame of red, stands whole in the middle; what is above and below goes on in green, not in the frame's red."""
    folder = compiled_folder(tmp_path / "peg-box")
    (folder / "plan.json").write_text(plan_json(derived_from(BOX)), encoding="utf-8")
    (folder / "drawings").mkdir()
    (folder / "drawings" / "cover.svg").write_text(SVG, encoding="utf-8")
    photo, held = Image.new("RGB", (400, 200), (200, 0, 0)), io.BytesIO()
    photo.paste((0, 160, 0), (2, 2, 398, 198))
    photo.save(held, "PNG")
    source = base64.b64encode(held.getvalue()).decode()
    image = f'<img class="photo" src="data:image/png;base64,{source}" alt="">'
    (folder / "peg-box.html").write_text(
        f'<section id="glance">{SVG}</section><section id="cover">{image}</section>', encoding="utf-8"
    )
    files = dict(shelf_files(folder, cover_picture(folder), sizes=((400, 400), (400, 200))))
    whole = Image.open(io.BytesIO(files["piece-400x400.png"])).convert("RGB")
    assert [whole.getpixel((200, high)) for high in (20, 100, 200, 380)] == [
        (0, 160, 0),
        (200, 0, 0),
        (0, 160, 0),
        (0, 160, 0),
    ]
    assert Image.open(io.BytesIO(files["piece-400x200.png"])).convert("RGB").tobytes() == photo.tobytes()
    assert "piece-400x400.png: Peg box, finished." in files["listing.txt"].decode()
    given = ["shelf", str(folder), "--out", str(tmp_path / "shelf")]
    assert "400 x 200 pixels: shown large it is soft" in CliRunner().invoke(app, given).stderr


def test_pages_are_shown_as_they_face_each_other() -> None:
    """Of pages 4 to 9 with steps, 6 and 7 are the fullest two that face each other; 5 is fuller than all, but 4 is empty."""
    html = "<style>@page {size: 100px; margin: 0} div {height: 100px; break-after: page} p {margin: 0; background: black}</style>"
    for page, high in enumerate((0, 0, 0, 0, 90, 50, 40, 30, 60), start=1):
        html += f'<div id="step-{page if page > 3 else "no"}"><p style="height: {high}px"></p></div>'.replace(
            "step-no", f"p{page}"
        )
    document = pypdfium2.PdfDocument(
        make_pdf(f"<html lang='en'><head><title>.</title></head><body>{html}</body></html>")
    )
    places = {f"step-{page}": page for page in range(4, 10)} | {"p1": 1}
    assert _fullest(document, places) == 6
    assert _fullest(document, {"step-4": 4}) == 0


def test_a_folder_that_is_no_compiled_plan_is_told(tmp_path: Path) -> None:
    with pytest.raises(ShelfError, match="compile the plan first"):
        list(shelf_files(tmp_path))


def test_a_damaged_plan_is_told_and_not_thrown(tmp_path: Path, price: Path) -> None:
    folder = compiled_folder(tmp_path / "peg-box")
    (folder / "plan.json").write_text("{ torn", encoding="utf-8")
    result = CliRunner().invoke(app, ["shelf", str(folder), "--prices", str(price), "--out", str(tmp_path / "shelf")])
    assert result.exit_code == 1
    assert "no plan.json of drawleaf" in result.stderr
    assert not (tmp_path / "shelf").exists()
