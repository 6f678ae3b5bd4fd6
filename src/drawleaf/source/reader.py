"""Reads a plan's folder: ``plan.yaml`` and the notes and pictures beside it, into a typed tree with positions.

Every mistake that can be reported without resolving the plan is collected in one run: YAML, keys and words, the notation of every
expression (also of those in a tree that is otherwise wrong), files that notes name, names in editions.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.source.edition_checks import check_editions
from drawleaf.source.expected import expressions_in
from drawleaf.source.expressions import parse_expression
from drawleaf.source.images import with_images
from drawleaf.source.library import Library, shown
from drawleaf.source.likeness import written_out
from drawleaf.source.models import PlanSource, SourceNode
from drawleaf.source.note_files import read_notes
from drawleaf.source.positions import Positions
from drawleaf.source.text_files import leads_outside, link_outside, read_text
from drawleaf.source.validate import validate_model
from drawleaf.source.yaml_tree import read_yaml

PLAN_FILE = "plan.yaml"


@dataclass(frozen=True, slots=True)
class Reading:
    """What a plan's folder holds. ``plan`` is None where it could not be made sense of; ``diagnostics`` then say why.

    ``positions`` and ``texts`` cover the plan's files and the library's. A note's ``text`` holds the words of its ``file``.
    ``edition`` is the edition that was applied and ``without`` the ids of the assemblies that it leaves out.
    """

    plan: PlanSource | None
    name: str
    folder: Path
    file: str
    positions: Positions
    texts: Mapping[str, str]
    library: Library
    diagnostics: tuple[Diagnostic, ...] = ()
    edition: str | None = None
    without: Mapping[str, Position] = field(default_factory=dict)


def read_plan(folder: Path, library: Library) -> Reading:
    """The plan in a folder. Never raises for what an author wrote."""
    path = folder / PLAN_FILE
    file = shown(path)
    text, found = (None, (link_outside(file),)) if leads_outside(path, folder) else read_text(path, file)
    texts = dict(library.texts)
    if text is None:
        return Reading(None, folder.resolve().name, folder, file, library.positions, texts, library, found)
    texts[file] = text
    tree, positions, found = read_yaml(file, text)
    tree, positions, unlike = written_out(tree, positions, file)
    tree, positions, unseen = with_images(tree, positions, file, library.components)
    found += unlike + unseen
    plan: PlanSource | None = None
    if tree is not None or not found:
        plan, misfits = validate_model(PlanSource, tree, positions, file)
        found += misfits + expression_mistakes(PlanSource, tree, positions, file)
    if plan is not None:
        plan, note_texts, mistakes = read_notes(plan, folder, positions)
        texts.update(note_texts)
        found += mistakes + check_editions(plan, positions)
    everywhere = library.positions.merged(positions)
    # What was written once and taken over by others has its mistake once.
    found = tuple({(one.code, one.position, one.message): one for one in reversed(found)}.values())[::-1]
    return Reading(plan, folder.resolve().name, folder, file, everywhere, texts, library, found)


def expression_mistakes(model: type[SourceNode], tree: Any, positions: Positions, file: str) -> tuple[Diagnostic, ...]:
    """A diagnostic for each expression of a tree that cannot be read, whether or not the rest of the tree is sound."""
    parsed = (parse_expression(text, positions.of(file, path)) for path, text in expressions_in(model, tree))
    return tuple(one for one in parsed if isinstance(one, Diagnostic))
