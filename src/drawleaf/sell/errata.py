"""The sheet for past buyers: what changed since their revision, what is for safety first, on a page or two."""

from __future__ import annotations

import base64
from collections.abc import Sequence
from dataclasses import dataclass

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from drawleaf.book.page.fonts import font_faces_for_print, font_faces_for_screen
from drawleaf.language import Words
from drawleaf.resources import template_folders
from drawleaf.sell.change import Change, Kind, Subject
from drawleaf.sell.part_picture import picture
from drawleaf.sell.piece import Compiled
from drawleaf.sell.telling import HEADINGS, matters_from


@dataclass(frozen=True, slots=True)
class Row:
    """A change as the sheet shows it; ``image`` is the address of its drawing, with words for who cannot see it."""

    name: str
    count: int
    kind: str
    what: str
    where: str
    todo: str
    image: str = ""
    alt: str = ""


def errata_html(old: Compiled, new: Compiled, changes: Sequence[Change], *, for_print: bool) -> str:
    """The sheet as HTML, for ``book.output.pdf.make_pdf`` or to stand by itself on a screen."""
    words = Words(new.language)
    safety = [_row(one, words) for one in changes if one.safety]
    groups = [
        (
            words.put(HEADINGS[subject]),
            [_row(one, words) for one in changes if one.subject is subject and not one.safety],
        )
        for subject in Subject
        if subject is not Subject.STEP
    ]
    steps = [one for one in changes if one.subject is Subject.STEP]
    environment = Environment(
        loader=FileSystemLoader(template_folders(None)), autoescape=True, undefined=StrictUndefined, trim_blocks=True
    )
    say = words.put
    values = {
        "old": old,
        "new": new,
        "safety": safety,
        "groups": [(heading, rows) for heading, rows in groups if rows],
        "changed_steps": [f"{one.new_step.number} {one.name}" for one in steps if one.new_step and one.old_step],
        "new_steps": [f"{one.new_step.number} {one.name}" for one in steps if one.new_step and not one.old_step],
        "dropped_steps": [f"{one.old_step.number} {one.name}" for one in steps if one.old_step and not one.new_step],
        "say": say,
        "tell": words.tell,
        "for_print": for_print,
    }
    template = environment.get_template("errata.html.j2")
    if for_print:
        return template.render(values, font_faces=Markup(font_faces_for_print()))
    bare = template.render(values, font_faces="")
    return template.render(values, font_faces=Markup(font_faces_for_screen(bare)))


def _row(change: Change, words: Words) -> Row:
    drawn = change.subject is Subject.PART and change.kind is not Kind.RENAMED
    svg = picture(change.old, change.new, change.verdict) if drawn else ""
    image = "data:image/svg+xml;base64," + base64.b64encode(svg.encode()).decode() if svg else ""
    alt = words.tell("{}: {} The old is drawn in grey, the new in color.", change.name, change.what) if svg else ""
    return Row(
        change.name,
        change.count,
        words.put(change.kind.value),
        change.what,
        matters_from(change, words),
        change.todo,
        image,
        alt,
    )
