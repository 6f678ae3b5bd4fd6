"""Figures of the printed booklets: pages, how full they are, how much of a step's page its picture takes, how long its sentences are."""

from __future__ import annotations

import re
import statistics
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
CSS_MM = 96 / 25.4
_TAG = re.compile(r"<[^>]+>")
_SENTENCE = re.compile(r"(?<=[.!?:;]) +(?=[A-Z\d“])|(?<=[.!?]) +")


def sentences(action: str) -> list[str]:
    """The sentences of an action as they are read, markup left out; what is told after a colon or semicolon in full is one by itself, and so is a
    cell of a table."""
    cells = re.sub(r"<table[^>]*>|</t[hd]>", ". ", str(action))
    return [one for one in _SENTENCE.split(_TAG.sub("", cells).replace("\u00a0", " ")) if one.strip()]


def word_count(sentence: str) -> int:
    """Words of a sentence; a figure with its unit, such as ``2 1/2 in``, reads as one."""
    figure = re.sub(r"\d[\d\s/.,-]*(?:in|mm|°|ft)?\b", "0 ", sentence)
    return len(figure.split())


def step_words(actions: Iterable[Iterable[str]]) -> dict[str, float]:
    """``words_per_action`` (mean) and ``longest_sentence`` (words) of the actions of steps."""
    every = [action for step in actions for action in step]
    counts = [[word_count(one) for one in sentences(action)] for action in every]
    return {
        "words_per_action": round(statistics.mean(sum(one) for one in counts), 2),
        "longest_sentence": max(max(one) for one in counts),
    }


def boxes(box: Any) -> Iterator[Any]:
    """A laid-out box and all within it."""
    yield box
    for child in getattr(box, "children", ()):
        yield from boxes(child)


def body(page: Any) -> list[Any]:
    """The boxes of a page between its running head and foot."""
    return [box for child in page.children if child.element_tag == "html" for box in boxes(child)]


def fill(page: Any, high: float) -> float:
    """How far down its frame, ``high`` mm, a page is used: a share."""
    seen = [
        box.position_y + box.height
        for box in body(page)
        if type(box).__name__ in ("TextBox", "InlineReplacedBox", "BlockReplacedBox")
        and box.style["visibility"] == "visible"
    ]
    top = min((box.position_y for box in body(page)), default=0.0)
    return (max(seen, default=top) - top) / CSS_MM / high


def picture_share(page: Any, area: float) -> float:
    """How much of a frame of ``area`` mm² the pictures of steps on it take."""
    seen = [box for box in body(page) if box.element_tag == "img" and "Replaced" in type(box).__name__]
    return sum(box.width * box.height for box in seen) / CSS_MM**2 / area


def classes(box: Any) -> list[str]:
    return (box.element.get("class") or "").split() if box.element is not None else []


def chapters(page: Any) -> list[str]:
    return [box.element.get("id") for box in body(page) if box.element_tag == "section" and "chapter" in classes(box)]


def measure() -> dict[str, float]:
    """Pages of each booklet; over all of them the mean and the least filled page but for covers and last pages of chapters, the median
    share of pictures on pages of steps, the mean words of an action and the longest sentence."""
    from drawleaf.book.chapters.context import Book
    from drawleaf.book.output.booklet import make_html
    from drawleaf.book.output.pdf import laid_out
    from drawleaf.book.page.paper import paper_of
    from drawleaf.compiler import Choice, read_and_resolve, work_out
    from drawleaf.draw.drawings import draw_all

    figures: dict[str, float] = {}
    fills: list[float] = []
    shares: list[float] = []
    actions: list[Iterable[str]] = []
    for folder in sorted(path.parent for path in (ROOT / "plans").glob("*/plan.yaml")):
        outcome, plan = read_and_resolve(folder, Choice())
        assert plan is not None
        outcome, solids = work_out(outcome, plan)
        derived = outcome.derived
        assert derived is not None
        assert solids is not None
        drawings = draw_all(derived, solids)
        html = make_html(derived, drawings, for_print=True, plan_folder=folder)
        pages = [page._page_box for page in laid_out(html, folder).pages]
        paper = paper_of(derived.plan.paper)
        figures[f"pages_{folder.name}"] = len(pages)
        for page, following in zip(pages[1:], [*pages[2:], None], strict=True):
            if following is not None and chapters(following)[:1] == chapters(page)[-1:]:
                fills.append(fill(page, paper.text_height))
            if "steps" in chapters(page):
                shares.append(picture_share(page, paper.text_width * paper.text_height))
        book = Book.of(derived, drawings, for_print=True, plan_folder=folder)
        actions += [book.texts[step.number].actions for step in derived.steps]
    figures |= {
        "page_fill_mean": round(statistics.mean(fills), 3),
        "page_fill_least": round(min(fills), 3),
        "step_picture_share": round(statistics.median(shares), 3),
    }
    return figures | step_words(actions)
