"""The catalogue: what ships, its published figures, an author's own laid over it, and what is told when a file is wrong."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
import yaml

from drawleaf.resources import product_folder, shared_folders
from drawleaf.source.library import Library, load_library
from drawleaf.source.library_lengths import DataProblem, literal_length, price_at, section_at
from drawleaf.units import Length

PLANS = Path(__file__).parents[2] / "plans"


def inches(text: str) -> Length:
    whole, _, fraction = text.rpartition("-")
    return Length.of_inches(int(whole or 0) + Fraction(fraction))


@pytest.fixture(scope="module")
def library() -> Library:
    library, found = load_library([product_folder("shared")])
    assert found == ()
    return library


BOTH_SYSTEMS = [
    *(
        f"{wood} board"
        for wood in ("ash", "beech", "cherry", "maple", "oak", "pine", "poplar", "red oak", "walnut", "white oak")
    ),
    *(f"{wood} plywood" for wood in ("birch", "fir", "maple", "pine", "red oak", "walnut")),
    "MDF",
]


@pytest.mark.parametrize("name", BOTH_SYSTEMS)
def test_common_woods_are_sold_in_inches_and_in_millimetres_with_prices(name: str, library: Library) -> None:
    """A maker with either rule finds what the yard keeps, and what it costs, in the list."""
    shared = product_folder("shared")
    files = [yaml.safe_load(one.read_text(encoding="utf-8")) for one in (shared / "materials").glob("*.yaml")]
    entry = next(one[name] for one in files if name in one)
    prices = yaml.safe_load((shared / "prices.yaml").read_text(encoding="utf-8"))
    assert name in library.catalogue.materials
    if "thicknesses" in entry:
        labels = set(entry["thicknesses"])
        assert {"1/4 in", "1/2 in", "3/4 in"} <= labels
        assert {"6 mm", "12 mm", "18 mm"} <= labels or name == "fir plywood"
        assert any(label.endswith("mm") for label in labels)
        assert labels <= prices["sheets"][name].keys()
        return
    sections = [size for row in entry["boards"] for size in row["sizes"].items()]
    assert {unit for _, section in sections for unit in ("in", "mm") if section.endswith(unit)} == {"in", "mm"}
    assert {label for label, _ in sections} == prices["boards"][name].keys()


def author(folder: Path, **files: str) -> Path:
    """An author's shared folder: ``hardware="..."`` becomes ``shared/hardware.yaml``."""
    shared = folder / "shared"
    for name, text in files.items():
        path = shared / f"{name.replace('__', '/')}.yaml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return shared


def load_over(shared: Path):
    return load_library([product_folder("shared"), shared])


# What ships


@pytest.mark.parametrize("plan", sorted(PLANS.glob("*/plan.yaml")), ids=lambda path: path.parent.name)
def test_everything_the_example_plans_name_is_there(plan: Path, library: Library) -> None:
    source = yaml.safe_load(plan.read_text(encoding="utf-8"))
    fits = [line["item"] for assembly in source["assemblies"].values() for line in assembly.get("hardware", [])]
    coats = [line["apply"] for line in source["finish"] if "apply" in line]
    components = [assembly["component"] for assembly in source["assemblies"].values() if "component" in assembly]
    assert coats
    assert set(fits) <= library.catalogue.hardware.keys()
    assert set(coats) <= library.catalogue.finishes.keys()
    assert set(components) <= library.components.keys()
    for stock in source["stock"].values():
        material = library.catalogue.materials[stock["material"]]
        if "size" in stock:
            assert stock["size"] in [board.name for board in material.boards]
        else:
            nominal = literal_length(stock["nominal"]) or inches(stock["nominal"])
            assert nominal in dict(material.sheets)


@pytest.mark.parametrize(
    ("size", "thickness", "width"),
    [
        ("1x2", "3/4", "1-1/2"),
        ("1x3", "3/4", "2-1/2"),
        ("1x4", "3/4", "3-1/2"),
        ("1x6", "3/4", "5-1/2"),
        ("1x8", "3/4", "7-1/4"),
        ("1x10", "3/4", "9-1/4"),
        ("1x12", "3/4", "11-1/4"),
    ],
)
def test_boards_have_the_dressed_sizes_of_ps_20(library: Library, size: str, thickness: str, width: str) -> None:
    board = next(board for board in library.catalogue.materials["pine board"].boards if board.name == size)
    assert (board.thickness, board.width) == (inches(thickness), inches(width))


def test_screw_shanks_follow_the_gauge_rule(library: Library) -> None:
    screws = [item for item in library.catalogue.hardware.values() if item.kind.endswith("screw") and item.gauge]
    assert {screw.gauge for screw in screws} == {4, 6, 7, 8, 10}
    for screw in screws:
        # ASME B18.6.1: D = 0.060 + 0.013 x number, in inches
        assert screw.diameter == Length.of_inches(Fraction(60 + 13 * (screw.gauge or 0), 1000)), screw.id


@pytest.mark.parametrize(
    ("wood", "specific_gravity", "stiffness", "tangential"),
    [
        ("red oak board", 0.63, 12500, 0.00369),
        ("white oak board", 0.68, 12300, 0.00365),
        ("maple board", 0.63, 12600, 0.00353),
        ("poplar board", 0.42, 10900, 0.00289),
        ("beech board", 0.64, 11900, 0.00431),
        ("construction lumber", 0.48, 13400, 0.00267),
    ],
)
def test_woods_have_the_wood_handbook_figures(
    library: Library, wood: str, specific_gravity: float, stiffness: float, tangential: float
) -> None:
    """USDA Wood Handbook FPL-GTR-282, Tables 5-3a and 13-5; density at 12% moisture is specific gravity x 1.12."""
    material = library.catalogue.materials[wood]
    assert material.density == pytest.approx(specific_gravity * 1120, abs=1)
    assert (material.stiffness, material.tangential) == (stiffness, tangential)
    assert material.solid


def test_pine_takes_the_less_favourable_of_two_species(library: Library) -> None:
    pine = library.catalogue.materials["pine board"]
    white, ponderosa = (0.35, 8550, 0.00212), (0.40, 8890, 0.00216)
    assert pine.density == pytest.approx(max(white[0], ponderosa[0]) * 1120, abs=1)
    assert pine.stiffness == min(white[1], ponderosa[1])
    assert pine.tangential == max(white[2], ponderosa[2])


def test_sheets_are_thinner_than_their_label(library: Library) -> None:
    birch = library.catalogue.materials["birch plywood"]
    assert birch.usual_thickness(inches("3/4")) == inches("23/32")
    assert birch.usual_thickness(inches("1/4")) == Length.of_mm(Fraction(26, 5))
    assert birch.usual_thickness(Length.of_mm(18)) == Length.of_mm(18)
    assert birch.usual_thickness(Length.of_mm(7)) == Length.of_mm(7)
    assert all(actual <= nominal for nominal, actual in birch.actuals)


def test_sheet_length_runs_with_the_grain(library: Library) -> None:
    full = dict(library.catalogue.materials["birch plywood"].sheets)[inches("3/4")][0]
    assert (full.name, full.length, full.width) == ("4 x 8 ft", inches("96"), inches("48"))
    assert full.price == 74


def test_metric_names_never_make_a_screw_much_longer(library: Library) -> None:
    named = [
        item for item in library.catalogue.hardware.values() if item.kind.endswith("screw") and " x " in item.metric
    ]
    assert len(named) > 30
    for item in named:
        assert item.length is not None
        metric = Length.of_mm(int(item.metric.split(" x ")[1].removesuffix(" mm")))
        assert metric <= item.length + Length.of_mm(1), item.id
    assert library.catalogue.hardware["wood screw 8 x 1-1/4"].metric == "4.0 x 30 mm"


def test_pocket_screws_are_told_apart_by_thread(library: Library) -> None:
    threads = {item.thread for item in library.catalogue.hardware.values() if item.kind == "pocket screw"}
    assert threads == {"coarse", "fine"}


def test_slides_need_half_an_inch_on_each_side(library: Library) -> None:
    slides = library.catalogue.hardware["side-mount slides 12 in"]
    assert slides.length == inches("12")
    assert slides.body == (inches("12"), inches("1/2"), inches("1-3/4"))
    assert [clearance.room for clearance in slides.clearances] == [inches("1/2")]
    assert all(screw.supplied for screw in slides.screws)


def test_every_power_tool_has_a_caution_and_something_to_wear(library: Library) -> None:
    power = [tool for tool in library.catalogue.tools.values() if tool.power]
    assert len(power) >= 9
    for tool in power:
        assert tool.cautions, tool.id
        assert "safety glasses" in tool.wear, tool.id


def test_a_use_adds_its_own_cautions(library: Library) -> None:
    saw = library.catalogue.tools["table saw"]
    assert saw.cautions_for() == ("table saw",)
    assert saw.cautions_for("rip", "small part") == ("table saw", "kickback", "small parts")


def test_signal_words_are_used_sparingly(library: Library) -> None:
    signals = [caution.signal for caution in library.catalogue.cautions.values()]
    assert "DANGER" not in signals
    assert {"WARNING", "CAUTION", "NOTICE"} <= set(signals)
    assert library.catalogue.cautions["oily rags"].signal == "WARNING"
    assert library.catalogue.cautions["glue squeeze-out"].signal == "NOTICE"


@pytest.mark.parametrize("finish", ["danish oil", "oil stain walnut", "hard wax oil", "oil-based polyurethane satin"])
def test_oily_finishes_warn_of_their_rags(library: Library, finish: str) -> None:
    assert "oily rags" in library.catalogue.finishes[finish].cautions


def test_everything_bought_has_a_price_and_a_source(library: Library) -> None:
    catalogue = library.catalogue
    assert (catalogue.prices.currency, catalogue.prices.date) == ("$", "2026-11")
    for item in [*catalogue.hardware.values(), *catalogue.consumables.values()]:
        assert item.price, item.id
        assert item.source, item.id
    for material in catalogue.materials.values():
        assert material.source
        assert all(sheet.price for _, sheets in material.sheets for sheet in sheets), material.id
        assert all(price for board in material.boards for price in board.prices), material.id
    for finish in catalogue.finishes.values():
        assert all(price for _, _, price in finish.containers), finish.id


def test_boards_are_priced_by_length(library: Library) -> None:
    board = next(board for board in library.catalogue.materials["pine board"].boards if board.name == "1x4")
    # 1.20 a foot: 4, 6, 8, 10, 12 ft
    assert board.prices == (Fraction(24, 5), Fraction(36, 5), Fraction(48, 5), 12, Fraction(72, 5))


# An author's own


def test_an_author_adds_and_replaces_by_name(tmp_path: Path) -> None:
    hook = "{name: Brass hook, plural: brass hooks, kind: hook, price: 9.50, aisle: Hooks}"
    shared = author(
        tmp_path,
        hardware=f"coat hook: {hook}\nbrass hook: {hook}\n",
        prices="currency: $\ndate: 2027-01\nhardware: {cup pull: 4.00}\n",
    )
    library, found = load_over(shared)
    assert found == ()
    hardware = library.catalogue.hardware
    assert hardware["coat hook"].name == "Brass hook"
    assert hardware["brass hook"].price == Fraction(19, 2)
    assert hardware["cup pull"].price == 4
    assert hardware["knob"].price == Fraction(29, 10)
    assert library.catalogue.prices.date == "2027-01"


def test_an_author_replaces_one_screw_of_a_family(tmp_path: Path) -> None:
    shared = author(
        tmp_path,
        hardware="wood screw 8 x 1-1/4: {name: Brass screw, plural: brass screws, kind: wood screw, gauge: 8, length: 1-1/4 in, aisle: Screws}\n",
    )
    library, found = load_over(shared)
    assert found == ()
    assert library.catalogue.hardware["wood screw 8 x 1-1/4"].name == "Brass screw"
    assert library.catalogue.hardware["wood screw 8 x 1-1/2"].name.startswith("#8")


def test_another_currency_replaces_the_whole_price_book(tmp_path: Path) -> None:
    shared = author(tmp_path, prices="currency: €\ndate: 2027-01\nhardware: {cup pull: 5.20}\n")
    library, found = load_over(shared)
    assert found == ()
    assert library.catalogue.hardware["cup pull"].price == Fraction(26, 5)
    assert library.catalogue.hardware["knob"].price is None


def test_an_author_s_component_replaces_ours(tmp_path: Path) -> None:
    text = (product_folder("shared") / "components" / "drawer-box.yaml").read_text(encoding="utf-8")
    shared = author(tmp_path, components__mine=text.replace("about: A plywood", "about: My own"))
    library, found = load_over(shared)
    assert found == ()
    component = library.components["drawer box"]
    assert component.about.startswith("My own")
    side = component.parts["box_side"]
    where = library.positions.of(side.source_file, side.path)
    lines = library.texts[where.file].splitlines()
    assert lines[where.line - 1].strip().startswith("box_side:")


# What is told


@pytest.mark.parametrize(
    ("files", "code", "line", "said", "mend"),
    [
        (
            {"hardware": "hook: {name: H, plural: h, kind: hook, aisel: A, aisle: A}"},
            "unknown-key",
            1,
            "aisel",
            "aisle",
        ),
        ({"hardware": "hook: {name: H, plural: h, kind: hook}"}, "missing-key", 1, "aisle", "aisle"),
        (
            {"hardware": "hook:\n  {name: H, plural: h, kind: hook, aisle: A, hole: 5}"},
            "wrong-value",
            2,
            "“5” is no length",
            "18 mm",
        ),
        (
            {"hardware": "hook:\n  {name: H, plural: h, kind: hook, aisle: A, body: 1 x 2 in}"},
            "wrong-value",
            2,
            "not 3 lengths",
            "in",
        ),
        (
            {
                "hardware": "a:\n  {name: H, plural: h, kind: hook, aisle: A, screws: [{item: wood scrw 8 x 2, count: 2}]}"
            },
            "unknown-item",
            2,
            "wood scrw 8 x 2",
            "wood screw 8 x 2",
        ),
        ({"tools": "plane: {name: P, group: G, stand_ins: [chisl]}"}, "unknown-item", 1, "chisl", "chisel"),
        ({"prices": "currency: $\ndate: 2026-11\nhardware: {cup pul: 3}"}, "unknown-item", 3, "cup pul", "cup pull"),
        ({"prices": "currency: $\ndate: 2026-11\nhardware: {cup pull: cheap}"}, "wrong-value", 3, "“cheap”", "12.50"),
        (
            {"cautions": "a: {signal: BEWARE, hazard: h, consequence: c, avoid: [a], short: s}"},
            "wrong-word",
            1,
            "BEWARE",
            "",
        ),
        ({"tools": "a: {name: A, group: G}\na: {name: B, group: G}"}, "", 2, "a", ""),
        ({"tools": "- a\n- b"}, "wrong-shape", 1, "no entries", ""),
        ({"tools": "a: [b"}, "yaml", 1, "", ""),
    ],
    ids=lambda value: next(iter(value)) if isinstance(value, dict) else None,
)
def test_mistakes_are_told_where_they_stand(
    tmp_path: Path, files: dict[str, str], code: str, line: int, said: str, mend: str
) -> None:
    library, found = load_over(author(tmp_path, **files))
    assert len(found) == 1, found
    problem = found[0]
    assert problem.position is not None
    assert problem.position.file.endswith(f"{next(iter(files))}.yaml")
    assert problem.position.line == line
    assert said in problem.message
    assert mend in problem.mend
    if code:
        assert problem.code == code
    assert library.catalogue.hardware["coat hook"]  # all else is still there


def test_one_mistake_is_told_once(tmp_path: Path) -> None:
    """A broken entry takes no others down with it, nor does what refers to it complain."""
    text = """
good: {name: G, plural: g, kind: hook, aisle: A, screws: [{item: bad, count: 2}]}
bad: {name: B, plural: b, kind: wood screw, length: long, aisle: A}
"""
    library, found = load_over(author(tmp_path, hardware=text))
    assert [problem.message for problem in found] == ["“long” is no length"]
    assert "good" in library.catalogue.hardware


def test_the_same_name_in_two_files_is_told(tmp_path: Path) -> None:
    entry = "mine: {name: M, plural: m, kind: hook, aisle: A}\n"
    _, found = load_over(author(tmp_path, hardware__one=entry, hardware__two=entry))
    assert [problem.code for problem in found] == ["written-twice"]
    assert found[0].position is not None
    assert found[0].position.file.endswith("two.yaml")
    assert found[0].cause.split()[0].endswith("one.yaml")


# Figures


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("3/4 in", Fraction("19.05")),
        ("1-1/2 in", Fraction("38.1")),
        ("1 1/2 in", Fraction("38.1")),
        ("18 mm", 18),
        ("5.2mm", Fraction("5.2")),
        ("0.164 in", Fraction("4.1656")),
        ("8 ft", Fraction("2438.4")),
        ("2.4 m", 2400),
    ],
)
def test_lengths_in_data_are_exact(text: str, mm: Fraction | int) -> None:
    assert literal_length(text) == Length.of_mm(mm)


@pytest.mark.parametrize(
    "text", ["", "3/4", "18", "3/0 in", "1-1/2-1/4 in", "-3 mm", "3 yards", "wide + 2 in", "1e3 mm"]
)
def test_other_texts_are_no_lengths(text: str) -> None:
    assert literal_length(text) is None


def test_a_unit_at_the_end_goes_for_the_whole_section() -> None:
    assert section_at("3/4 x 1-1/2 in", 2) == (inches("3/4"), inches("1-1/2"))
    assert section_at("18 mm x 2 in", 2) == (Length.of_mm(18), inches("2"))
    with pytest.raises(DataProblem):
        section_at("3/4 x 1-1/2", 2)


@pytest.mark.parametrize(
    ("text", "price"), [("12", Fraction(12)), ("0.85 / ft", Fraction("5.10")), ("3.40 / m", Fraction("6.22"))]
)
def test_prices_by_length_come_to_the_cent(text: str, price: Fraction) -> None:
    # 6 ft is 1.8288 m: 3.40 x 1.8288 = 6.21792
    assert price_at(text, inches("72")) == price


def test_the_library_is_the_same_every_time() -> None:
    first, second = (load_library(shared_folders(PLANS / "key-ledge"))[0] for _ in range(2))
    assert first.catalogue == second.catalogue
    assert list(first.catalogue.hardware) == list(second.catalogue.hardware)
