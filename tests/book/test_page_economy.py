"""The example plans on paper: steps whole and with their drawing, pages well filled, no more pages than need be."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from markupsafe import Markup
from tests.conftest import PLANS, ROOT, drawn
from tests.laid_pages import LaidBox, LaidPage, laid_out

from drawleaf.book.chapters.context import Book
from drawleaf.book.chapters.exploded import key_height
from drawleaf.book.output.booklet import make_html
from drawleaf.book.page.figure_pages import column_height, in_columns, in_rows, room_left, usual_scale
from drawleaf.book.page.measure import line_count
from drawleaf.book.page.paging import Block, Broken, Form, Way, arrange, gather_on_pages, in_order_on_pages
from drawleaf.book.page.paper import BOTTOM_MARGIN, STEPS_HEAD, TOP_MARGIN, paper_of
from drawleaf.model.drawings import Drawing

CSS_MM = 96 / 25.4
MOST_PAGES = {"boot-bench": 64, "key-ledge": 31}


@cache
def printed(name: str) -> tuple[LaidPage, ...]:
    """The pages of an example plan as laid-out boxes."""
    folder = ROOT / "plans" / name
    return laid_out(make_html(*drawn(name), for_print=True, plan_folder=folder), folder)


def body(page: LaidPage) -> Iterator[LaidBox]:
    """The boxes between the running head and foot."""
    for child in page.box.children:
        if child.tag == "html":
            yield from child.all()


def sections(page: LaidPage, kind: str) -> Iterator[LaidBox]:
    for box in body(page):
        if box.tag == "section" and kind in box.classes:
            yield box


def is_content(box: LaidBox) -> bool:
    return box.kind in ("TextBox", "InlineReplacedBox", "BlockReplacedBox")


def foot(page: LaidPage) -> float:
    """How far down the page its words and drawings reach, in mm from the top of the type area."""
    ends = [box.top + box.height for box in body(page) if is_content(box) and box.visible]
    return max(ends, default=0.0) / CSS_MM - TOP_MARGIN


def chapters_of(page: LaidPage) -> list[str]:
    return [box.attributes["id"] for box in sections(page, "chapter")]


@pytest.mark.parametrize("name", PLANS)
def test_a_booklet_has_no_more_pages_than_it_needs(name: str):
    assert len(printed(name)) <= MOST_PAGES[name]


@pytest.mark.parametrize("name", PLANS)
def test_no_page_is_under_a_third_full_but_at_a_chapters_end(name: str):
    pages = printed(name)
    paper = paper_of(drawn(name)[0].plan.paper)
    thin = []
    for number, page in enumerate(pages):
        following = chapters_of(pages[number + 1])[:1] if number + 1 < len(pages) else []
        ends = not following or following[0] != chapters_of(page)[-1]
        if foot(page) < paper.text_height / 3 and not ends:
            thin.append(number + 1)
    assert thin == []


def pages_by_step(name: str, wanted: Callable[[LaidBox], bool]) -> dict[str, set[int]]:
    """The pages on which boxes of a kind stand, by the number of their step."""
    found: dict[str, set[int]] = defaultdict(set)
    for number, page in enumerate(printed(name)):
        for step in sections(page, "step"):
            if any(wanted(box) for box in step.all()):
                found[step.attributes["data-step"]].add(number)
    return found


@pytest.mark.parametrize("name", PLANS)
def test_no_action_is_parted_from_its_drawing(name: str):
    pictured = pages_by_step(name, lambda box: box.tag == "img" and "Replaced" in box.kind)
    acted = pages_by_step(name, lambda box: box.classes == ["actions"])
    derived, drawings = drawn(name)
    assert set(pictured) == {str(number) for number in drawings.steps}
    assert set(acted) == {str(step.number) for step in derived.steps}
    assert {key for key in pictured if not acted[key] <= pictured[key]} == set()


@pytest.mark.parametrize("name", PLANS)
def test_a_step_stands_on_one_page_unless_no_page_can_hold_it(name: str):
    pages = pages_by_step(name, lambda box: True)
    over = {key for key in pages if len(pages[key]) > 1}
    too_long = {step.attributes["data-step"] for page in printed(name) for step in sections(page, "runs-over")}
    assert over <= too_long
    assert len(too_long) <= 2 * len(pages) // 5


@pytest.mark.parametrize("name", PLANS)
def test_a_step_breaks_between_actions_with_its_picture_and_two_of_them_on_both_pages(name: str):
    acted = pages_by_step(name, lambda box: box.classes == ["actions"])
    broken = {key: pages for key, pages in acted.items() if len(pages) > 1}
    counts = {
        (key, number): len(
            {box.element for step in sections(printed(name)[number], "step") for box in actions_of(step, key)}
        )
        for key, pages in broken.items()
        for number in pages
    }
    assert {place: count for place, count in counts.items() if count < 2} == {}
    assert len(broken) <= len(acted) // 5


def actions_of(step: LaidBox, key: str) -> Iterator[LaidBox]:
    if step.attributes["data-step"] == key:
        for box in step.all():
            if box.classes == ["actions"]:
                yield from (one for one in box.all() if one.tag == "li")


def derived_drawing(drawings: Any, page: Any) -> Drawing | None:
    """The high drawing of a step as it was drawn, where its page shows that one."""
    return drawings.steps[page.step.number] if page.way.drawing == "high" else None


@pytest.mark.parametrize("name", PLANS)
def test_a_picture_grows_into_the_room_that_its_page_leaves(name: str):
    from drawleaf.book.chapters import steps as chapter

    derived, drawings = drawn(name)
    book = Book.of(derived, drawings, for_print=True, plan_folder=ROOT / "plans" / name)
    growth = [
        page.drawing.width_mm / high.width_mm
        for page in chapter.gather(book)["pages"]
        if (high := derived_drawing(drawings, page)) is not None
    ]
    assert all(1.0 <= factor <= chapter.MOST_GROWTH + 1e-9 for factor in growth)
    assert any(factor > 1.1 for factor in growth)


def test_a_picture_of_several_parts_is_not_set_small_beside_its_words():
    """Six parts of a face frame with their brads and clamps ran into each other on a picture of 62 mm, though it saved a page."""
    from drawleaf.book.chapters import steps as chapter

    derived, drawings = drawn("boot-bench")
    book = Book.of(derived, drawings, for_print=True, plan_folder=ROOT / "plans" / "boot-bench")
    crowded = [page for page in chapter.gather(book)["pages"] if page.crowded]
    assert len(crowded) >= 3
    for page in (one for one in crowded if one.beside):
        small, high = (
            chapter._drawing_in(book, page.step, way) for way in (page.way, replace(page.way, drawing="high"))
        )
        assert small.width_mm * small.height_mm > 0.6 * high.width_mm * high.height_mm


def test_a_part_is_drawn_larger_where_its_page_has_room():
    """The shelf of the bench stands at 1 : 10 where other parts share its page. The least that is taken first; nothing past the page's foot."""
    from drawleaf.book.chapters import parts as chapter

    derived, drawings = drawn("boot-bench")
    number = next(item.number for item in derived.cut_list.items if item.part.id == "shelves.shelf.1")
    alone = replace(drawings, parts={number: drawings.parts[number]})
    book = Book.of(derived, alone, for_print=True, plan_folder=ROOT / "plans" / "boot-bench")
    found = chapter.gather(book)
    assert found is not None
    (back,) = found["blocks"]
    assert drawings.parts[back.item.number].scale == "1 : 10"
    assert back.drawing.scale == "1 : 5"
    usual = [replace(back, drawing=replace(back.drawing, height_mm=high)) for high in (50.0, 60.0)]
    larger = {back.item.number: [replace(back.drawing, height_mm=high) for high in (70.0, 110.0)]}

    def grown(spare: float) -> list[float]:
        return [one.drawing.height_mm for one in chapter._filled(usual, larger, spare)]

    assert grown(9.0) == [50.0, 60.0]
    assert grown(10.0) == [50.0, 70.0]
    assert grown(30.0) == [70.0, 70.0]
    assert grown(69.0) == [70.0, 70.0]
    assert grown(70.0) == [110.0, 70.0]


def test_a_list_of_tools_is_set_closer_where_that_keeps_it_on_its_page():
    """The cabinet's list stood over by three tools, on a page of its own."""
    from drawleaf.book.chapters import tools as chapter

    derived, drawings = drawn("key-ledge")
    book = Book.of(derived, drawings, for_print=True, plan_folder=ROOT / "plans" / "key-ledge")
    found = chapter.gather(book)
    assert found is not None
    paper = paper_of(derived.plan.paper)
    group, (row, *_) = next(iter(found["groups"].items()))

    def close(times: int) -> bool:
        return chapter._set_closer({**found["groups"], group: [row] * times}, set(), paper)

    closer = [times for times in range(80) if close(times)]
    assert closer == list(range(closer[0], closer[-1] + 1))
    assert len(closer) > 2
    style = (ROOT / "templates" / "css" / "print.css").read_text(encoding="utf-8")
    for (leading, air), own in ((chapter._USUAL, ""), (chapter._CLOSE, ".close")):
        assert f"line-height: {leading}; }}" in next(
            line for line in style.splitlines() if line.startswith(f".tools-list{own} {{")
        )
        assert f"{'.tools-list.close' if own else '.ticked'} li {{ margin-bottom: {air}mm;" in style


def test_the_number_of_a_page_has_its_room_before_it_is_known():
    words = "Template 3 (page\u00a0{}) marks this at full size."
    known, later = (words.format(number) for number in ("70", '<a class="page" href="#template-03"></a>'))
    measures = [line_count(known, wide / 4, 9.0) for wide in range(60, 200)]
    assert measures == [line_count(later, wide / 4, 9.0) for wide in range(60, 200)]
    assert len(set(measures)) > 2


@pytest.mark.parametrize("name", PLANS)
def test_a_step_is_as_high_as_was_reckoned(name: str):
    from drawleaf.book.chapters import steps as chapter
    from drawleaf.book.page.step_forms import step_block, work_height

    derived, drawings = drawn(name)
    book = Book.of(derived, drawings, for_print=True, plan_folder=ROOT / "plans" / name)
    paper = paper_of(derived.plan.paper)
    reckoned = {}
    for page in chapter.gather(book)["pages"]:
        block = step_block(page, chapter._drawings(book, page.step), paper, bool(page.stage))
        if page.again is None:
            small = chapter._drawing_in(book, page.step, page.way)
            grown = page.drawing.height_mm - small.height_mm if small else 0.0
            if page.way.beside:
                high_now, high_then = (
                    work_height(page, one, page.way, paper, checked=True) for one in (page.drawing, small)
                )
                grown = high_now - high_then
            reckoned.update(
                {str(page.step.number): form.height + grown for form in block.forms if form.way == page.way}
            )
    first = "1"
    high: dict[str, list[float]] = defaultdict(list)
    for page in printed(name):
        for step in sections(page, "step"):
            key = step.attributes["data-step"]
            high[key].append(step.height / CSS_MM - (STEPS_HEAD if key == first and not high[key] else 0.0))
    errors = {key: reckoned[key] - parts[0] for key, parts in high.items() if len(parts) == 1 and key in reckoned}
    assert len(errors) > len(high) // 2
    assert min(errors.values()) > -6.0, sorted((round(v, 1), k) for k, v in errors.items())[:3]
    assert max(errors.values()) < 20.0, errors


@pytest.mark.parametrize("name", PLANS)
def test_the_running_head_names_the_chapter_at_the_top_of_its_page(name: str):
    chapters = [chapter for page in printed(name) for chapter in sections(page, "chapter")]
    titles = {one.attributes["id"]: words(box) for one in chapters for box in one.all() if box.tag == "h2"}
    for page in printed(name):
        heads = [words(child) for child in page.box.children if child.tag != "html"]
        first = chapters_of(page)[0]
        assert first == "cover" or titles[first] in heads, (heads, first)


def words(box: LaidBox) -> str:
    return " ".join(one.text for one in box.all() if one.kind == "TextBox")


@pytest.mark.parametrize("name", PLANS)
def test_a_chapters_heading_is_never_alone_at_a_foot(name: str):
    for page in printed(name):
        heads = [box for box in body(page) if box.tag in ("h2", "h3", "h4") and box.height]
        for head in heads:
            below = [box for box in body(page) if is_content(box) and box.top >= head.top + head.height - 1]
            assert below, head.attributes


@pytest.mark.parametrize("name", PLANS)
def test_nothing_stands_in_the_foot_or_over_the_edge(name: str):
    paper = paper_of(drawn(name)[0].plan.paper)
    for number, page in enumerate(printed(name)):
        if number == 0:
            continue  # The cover has margins of its own.
        assert foot(page) <= paper.height - TOP_MARGIN - BOTTOM_MARGIN + 0.5, number + 1


def test_no_balloon_begins_a_line():
    for name in PLANS:
        html = make_html(*drawn(name), for_print=True, plan_folder=ROOT / "plans" / name)
        actions = re.findall(r'<ol class="actions">(.*?)</ol>', html, re.DOTALL)
        assert actions
        for text in actions:
            free = re.sub(
                r'<span class="whole">(?:(?:(?!</span>).)*<span class="balloon[^>]*>\d+</span>[^<]*)+</span>', "", text
            )
            assert not re.search(r'\w(?:</b>)?[ \u00a0]<span class="balloon', free), free


def block(*forms: tuple[Any, float, float]) -> Block:
    return Block(tuple(Form(Way(name), height, cost) for name, height, cost in forms), gap=5.0)


def test_two_low_blocks_share_a_page_rather_than_two_high_ones_take_two():
    blocks = [block(("high", 60, 0), ("low", 45, 10)), block(("high", 60, 0), ("low", 45, 10))]
    (page,) = arrange(blocks, 100)
    assert [form.way.drawing for form in page.forms] == ["low", "low"]


def test_the_check_of_the_last_block_stands_overleaf_where_that_saves_a_page():
    """60 and 60 do not fit; the second has 20 mm of check, which then heads the next page, where a third block follows."""
    parted = Block((Form(Way("high"), 60, 0),), 5.0, None, (), 0.0, (Form(Way("high"), 35, 0),), 25.0)
    first, second = arrange([block(("high", 60, 0)), parted, block(("high", 65, 0))], 100)
    assert (first.end, first.tailed, first.unchecked) == (2, True, True)
    assert (second.first, second.continued, second.tailed) == (2, True, False)


def breakable(height: float, first: float, over: float) -> Block:
    """A block that may break after two of its actions."""
    return Block((Form(Way("high"), height, 0),), 5.0, broken=(Broken((Form(Way("high"), first, 0),), over, 2),))


def test_a_block_breaks_between_its_actions_where_that_saves_a_page():
    first, second = arrange([block(("high", 60, 0)), breakable(60, 35, 45), block(("high", 50, 0))], 100)
    assert (first.end, first.upto, second.continued, second.begun) == (2, 2, True, 45)


def test_a_block_stays_whole_where_no_page_is_saved():
    pages = arrange([block(("high", 60, 0)), breakable(60, 35, 45), block(("high", 70, 0))], 100)
    assert [page.upto for page in pages] == [0, 0, 0]


def test_a_block_alone_is_set_high():
    (page,) = arrange([block(("high", 60, 0), ("low", 45, 10))], 100)
    assert [form.way.drawing for form in page.forms] == ["high"]


def test_a_block_too_high_for_a_page_runs_over_and_the_next_one_follows_it():
    pages = arrange([block((None, 130, 0)), block((None, 40, 0)), block((None, 70, 0))], 100)
    assert [(page.first, page.end, page.overfull, page.continued) for page in pages] == [
        (0, 1, True, False),
        (1, 2, False, True),
        (2, 3, False, False),
    ]


def test_a_block_too_high_but_for_its_last_words_leaves_only_these_for_the_next_page():
    long = Block((Form(Way(None), 130, 0),), 5.0, 95.0, (Form(Way(None), 90, 0),), 20.0)
    first, second = arrange([long, block((None, 60, 0))], 100)
    assert (first.tailed, first.overfull) == (True, False)
    assert (second.first, second.continued) == (1, True)


def test_last_words_do_not_take_a_page_of_their_own():
    """Where what follows does not fit below them, the block is parted as a whole instead."""
    long = Block((Form(Way(None), 130, 0),), 5.0, 95.0, (Form(Way(None), 90, 0),), 20.0)
    assert arrange([long, block((None, 90, 0)), block((None, 90, 0))], 100)[0].overfull


def test_words_beside_a_drawing_run_on_below_it():
    words = "word " * 60
    narrow, wide = line_count(words, 60, 11.5), line_count(words, 120, 11.5)
    assert line_count(words, 120, 11.5, beside=(99, 60)) == narrow
    assert wide < line_count(words, 120, 11.5, beside=(4, 60)) < narrow


def drawing(name: str, width: float, height: float) -> Drawing:
    return Drawing(name, "section", name, "<svg/>", name, width, height, "1 : 10")


def test_narrow_drawings_stand_side_by_side_with_their_captions_level():
    rows = in_rows([drawing("front", 150, 90), drawing("side", 80, 80), drawing("section", 85, 95)], 176, 245, 210)
    assert [[one.drawing.title for one in row.figures] for row in rows] == [["front"], ["side", "section"]]
    side, section = rows[1].figures
    assert (side.lowered, section.lowered) == (15, 0)
    assert side.width + section.width <= 176 - 5


def test_details_fill_their_columns_and_none_is_higher_than_its_page():
    details = [drawing(f"Detail {number}", 82, height) for number, height in enumerate((70, 60, 50, 90, 40, 80, 30))]
    pages = in_columns(details, 150, 140)
    assert sorted(one.title for page in pages for column in page for one in column) == [one.title for one in details]
    for number, page in enumerate(pages):
        assert all(column_height(column, "1 : 10") <= (150 if number else 140) for column in page)


def test_a_short_first_page_takes_the_details_that_fit_it():
    """The highest do not fit below what stands there already: they go to the next page and the low ones stand before them."""
    details = [drawing(f"Detail {number}", 82, height) for number, height in enumerate((90, 40, 80, 35))]
    first, *others = in_columns(details, 150, 60)
    usual = usual_scale(details)
    assert [one.title for column in first for one in column] == ["Detail 1", "Detail 3"]
    assert len(others) == 1
    assert all(column_height(column, usual) <= 60 for column in first)


def test_a_narrow_layout_has_its_cuts_beside_it_where_that_takes_less_room():
    from drawleaf.book.chapters import layouts as chapter

    derived, drawings = drawn("key-ledge")
    book = Book.of(derived, drawings, for_print=True, plan_folder=ROOT / "plans" / "key-ledge")
    one = next(laid for laid in chapter.gather(book)["laid"] if laid.kind == "board")
    width = paper_of(derived.plan.paper).text_width
    set_with = [
        chapter._lower(replace(one, drawing=replace(one.drawing, width_mm=wide)), width, chapter._BEFORE_GIVES)
        for wide in (96.0, 150.0)
    ]
    assert [laid.beside for laid in set_with] == [True, False]


def test_the_facts_of_a_part_stand_beside_its_title_where_they_fit():
    from drawleaf.book.chapters import parts as chapter

    derived, drawings = drawn("key-ledge")
    book = Book.of(derived, drawings, for_print=True, plan_folder=ROOT / "plans" / "key-ledge")
    block = replace(chapter.gather(book)["blocks"][0], facts=Markup("12 × 4 × 3/4 in, pine"))
    long = replace(block, facts=block.facts + Markup(" Cut it too long at first, and then again.") * 2)
    assert [chapter._on_one_line(one, 176.0) for one in (block, long)] == [True, False]


def test_the_last_page_of_details_uses_both_columns():
    details = [drawing(f"Detail {number}", 82, 60) for number in range(6)]
    pages = in_columns(details, 150, 150)
    assert [[len(column) for column in page] for page in pages] == [[2, 2], [1, 1]]


def test_the_arrangement_has_no_more_pages_than_a_search_of_all():
    heights = [30, 80, 45, 50, 20, 95, 10, 60, 35]

    def fewest(first: int) -> int:
        if first == len(heights):
            return 0
        return 1 + min(
            fewest(end)
            for end in range(first + 1, len(heights) + 1)
            if sum(heights[first:end]) + 5 * (end - first - 1) <= 100
        )

    assert len(arrange([block((None, height, 0)) for height in heights], 100)) == fewest(0)


def test_small_blocks_are_drawn_forward_to_fill_a_page():
    assert gather_on_pages([60, 70, 20, 30], 100, 100, gap=5) == ((0, 3), (1, 2))


def test_a_block_higher_than_a_page_stands_alone():
    assert gather_on_pages([130, 20, 30], 100, 100, gap=5) == ((0,), (1, 2))


def test_blocks_keep_their_order_where_no_page_is_saved_by_another():
    """Out of turn where it saves one."""
    assert in_order_on_pages([60, 30, 70, 20], 100, 100, gap=5) == ((0, 1), (2, 3))
    assert in_order_on_pages([60, 20, 30, 70], 100, 100, gap=5) == ((0, 2), (1, 3))
    assert in_order_on_pages([60, 70, 20, 30], 100, 100, gap=5) == ((0, 3), (1, 2))
    assert in_order_on_pages([50, 40, 45, 50], 100, 100, gap=5) == ((0, 1), (2, 3))


def test_the_list_of_parts_is_measured_with_its_long_names():
    """Nine short names fill three columns of three; one name of two lines makes its column a line higher, a tenth name a row."""
    items = drawn("key-ledge")[0].cut_list.items
    nine = [replace(items[0], number=number, name="Side") for number in range(1, 10)]
    setting = (5.0, 10.5, 1.38, 1.0)
    line = 10.5 * 25.4 / 72 * 1.38
    plain = key_height(nine, 176.0, setting)
    assert plain == pytest.approx(3 * (line + 1.0), abs=1.0)
    long = [*nine[:-1], replace(nine[-1], name="Right cornice return and plinth end of the tall cabinet")]
    assert plain < key_height(long, 176.0, setting) <= plain + line + 1.0
    ten = [*nine, replace(nine[0], number=10)]
    assert key_height(ten, 176.0, setting) > plain + line - 1.0


def test_part_drawings_follow_on_a_page_that_is_begun_where_that_saves_one():
    from drawleaf.book.chapters import parts as chapter

    # 100 mm are left: the first two stand there, and the third no longer needs a second page of its own.
    assert chapter._follows([40.0, 40.0, 150.0], 200.0, 100.0, 2, alone=False) == ((0, 1), (2,))
    # Too little is left for the first of them, but for the table of plain parts.
    assert chapter._follows([120.0, 60.0], 200.0, 30.0, 2, alone=True) == ((), (0, 1))
    assert chapter._follows([120.0, 60.0], 200.0, 30.0, 2, alone=False) is None
    # No page is saved, or nobody knows where the chapter before it ends.
    assert chapter._follows([150.0, 150.0], 200.0, 160.0, 1, alone=False) is None
    assert chapter._follows([40.0], 200.0, -20.0, 1, alone=True) is None


def test_where_drawings_end_is_known_to_the_chapter_that_follows():
    rows = in_rows([drawing("front", 150, 90), drawing("side", 150, 90)], 176, 120, 120)
    assert [row.new_page for row in rows] == [False, True]
    assert room_left(rows, 120, 60) == room_left(rows[1:], 120, 60) == 120 - rows[1].height - 5
    assert room_left(rows[:1], 120, 110) == 110 - rows[0].height - 5


def test_what_one_needs_stands_over_the_whole_width_where_its_column_would_be_the_longest():
    """A long list beside few words made its column the height of the step."""
    from drawleaf.book.chapters import steps as chapter
    from drawleaf.book.page.step_forms import step_block

    derived, drawings = drawn("key-ledge")
    book = Book.of(derived, drawings, for_print=True, plan_folder=ROOT / "plans" / "key-ledge")
    paper = paper_of(derived.plan.paper)
    page = replace(chapter.gather(book)["pages"][0], needs=(Markup("Plane, saw and square."),) * 12)
    forms = step_block(page, chapter._drawings(book, page.step), paper, opens_stage=False).forms
    usual, across = (min(form.height for form in forms if form.way.needs_across is over) for over in (False, True))
    assert across < usual - 10.0
