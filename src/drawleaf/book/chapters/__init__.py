"""The chapters in booklet order. A new chapter is one file here, one template, and one line in this list."""

from drawleaf.book.chapters import (
    care,
    checked,
    contents,
    cover,
    cut_list,
    elevations,
    exploded,
    finishing,
    full_size,
    glance,
    guide,
    hardware,
    layouts,
    other_ways,
    parts,
    parts_index,
    revisions,
    safety,
    shopping,
    steps,
    tools,
)
from drawleaf.book.chapters.chapter import Chapter

CHAPTERS: tuple[Chapter, ...] = (
    cover.CHAPTER,
    glance.CHAPTER,
    contents.CHAPTER,
    guide.CHAPTER,
    safety.CHAPTER,
    tools.CHAPTER,
    shopping.CHAPTER,
    hardware.CHAPTER,
    cut_list.CHAPTER,
    layouts.CHAPTER,
    exploded.CHAPTER,
    elevations.CHAPTER,
    parts.CHAPTER,
    steps.CHAPTER,
    other_ways.CHAPTER,
    finishing.CHAPTER,
    care.CHAPTER,
    checked.CHAPTER,
    revisions.CHAPTER,
    parts_index.CHAPTER,
    full_size.CHAPTER,
)

__all__ = ["CHAPTERS", "Chapter"]
