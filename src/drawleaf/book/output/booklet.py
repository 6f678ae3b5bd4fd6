"""The whole booklet as one HTML text, for paper or for a screen, from the templates."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from drawleaf.book.chapters import CHAPTERS, Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.output.apart import render_apart
from drawleaf.book.output.figures_in_names import with_figures_set
from drawleaf.book.output.html_edition import finish_for_screen
from drawleaf.book.output.turning import with_turning
from drawleaf.book.page.figures import picture_for_print, picture_for_screen
from drawleaf.book.page.fonts import font_faces_for_print
from drawleaf.book.page.pictures import embed_pictures
from drawleaf.book.words.wording import environment_for
from drawleaf.english import capitalized
from drawleaf.language import Words
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing, Drawings
from drawleaf.model.turnable import Turnable
from drawleaf.resources import template_folders


@dataclass(frozen=True, slots=True)
class SetChapter:
    """A chapter with its page already set."""

    chapter: Chapter
    html: Markup
    stays_whole: bool
    """Whether it moves to the next page rather than break; one that no page holds does not."""


def make_html(
    derived: Derived,
    drawings: Drawings,
    *,
    for_print: bool,
    plan_folder: Path | None = None,
    turnable: Turnable | None = None,
) -> str:
    """The booklet's HTML.

    For print it refers to the font files on this computer and is meant for ``pdf.make_pdf``; for a screen it holds everything it
    needs in itself, with what is ``turnable`` where that is given. Templates in a ``templates`` folder beside the plan replace ours by name; they are rendered apart, within limits.
    Raises TemplateFaultError where one of them is at fault.
    """
    if plan_folder is not None and len(template_folders(plan_folder)) > 1:
        html = render_apart(derived, drawings, for_print=for_print, plan_folder=plan_folder)
    else:
        html = rendered(derived, drawings, for_print=for_print, plan_folder=plan_folder)
    html = embed_pictures(with_figures_set(html), plan_folder)
    if for_print:
        return html
    return finish_for_screen(html if turnable is None else with_turning(html, derived, turnable))


def rendered(derived: Derived, drawings: Drawings, *, for_print: bool, plan_folder: Path | None = None) -> str:
    """The HTML as the templates give it, its pictures and the fonts for a screen still to be put in."""
    book = Book.of(derived, drawings, for_print=for_print, plan_folder=plan_folder)
    environment = _environment(template_folders(plan_folder), derived.plan.words)
    values = _values(book)
    chapters = _set_chapters(environment, book, values)
    template = environment.get_template("booklet.html.j2" if for_print else "screen.html.j2")
    faces = Markup(font_faces_for_print()) if for_print else Markup("")
    return template.render(values, chapters=chapters, font_faces=faces)


def _set_chapters(environment: Environment, book: Book, values: dict[str, Any]) -> tuple[SetChapter, ...]:
    wanted: list[tuple[Chapter, Mapping[str, Any]]] = []
    begun = 0.0
    for chapter in CHAPTERS:
        found = chapter.gather(replace(book, begun=begun))
        if found is not None:
            begun = found.get("ends", 0.0)
            title = chapter.titled(found) if chapter.titled else chapter.title
            runs_on = chapter.runs_on or found.get("follows", False)
            wanted.append((replace(chapter, title=title, runs_on=runs_on), found))
    listed = [chapter for chapter, _ in wanted if chapter.listed]
    present = frozenset(chapter.id for chapter, _ in wanted)
    pages = []
    for chapter, found in wanted:
        template = environment.get_template(f"chapters/{chapter.id}.html.j2")
        html = template.render(
            values, chapter=chapter, listed=listed, present=present, notes=book.notes("chapter", chapter.id), **found
        )
        pages.append(SetChapter(chapter, Markup(html), chapter.stays_whole and not found.get("breaks", False)))
    return tuple(pages)


def _values(book: Book) -> dict[str, Any]:
    """What every template may name."""

    def picture(drawing: Drawing) -> Markup:
        return picture_for_print(drawing) if book.for_print else picture_for_screen(drawing)

    return {
        "book": book,
        "derived": book.derived,
        "plan": book.derived.plan,
        "about": book.derived.plan.about,
        "drawings": book.drawings,
        "fmt": book.formatter,
        "for_print": book.for_print,
        "step_ids": {step.number: step.id for step in book.derived.steps},
        "picture": picture,
    }


@cache
def _environment(folders: tuple[Path, ...], words: Words) -> Environment:
    environment = environment_for(
        folders,
        words,
        loader=FileSystemLoader(folders),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["capitalize_first"] = capitalized
    return environment
