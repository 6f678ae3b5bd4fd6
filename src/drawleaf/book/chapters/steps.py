"""The steps, each with what it needs, its cautions, its drawing, its actions and its check."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from markupsafe import Markup

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.chapters.step_elsewhere import (
    ANOTHER_WAY,
    Told,
    as_in,
    authors_ways,
    joint_details,
    marking_templates,
    where_told,
)
from drawleaf.book.chapters.step_needs import WHOLE_NAME, needs
from drawleaf.book.chapters.tools import runs_of
from drawleaf.book.page.paging import Block, Page, Way, arrange
from drawleaf.book.page.paper import STEPS_HEAD, Paper, paper_of
from drawleaf.book.page.qr import qr_picture
from drawleaf.book.page.step_forms import again_beside, needs_width, step_block, work_height
from drawleaf.book.page.step_pieces import TIME_GAP, time_height, time_width
from drawleaf.book.words.check_words import sentence_words
from drawleaf.book.words.format import bound
from drawleaf.book.words.other_tools import OtherTools, other_tools
from drawleaf.book.words.wording import StepText
from drawleaf.english import capitalized
from drawleaf.model.catalogue import Caution
from drawleaf.model.checks import CheckResult
from drawleaf.model.drawings import Drawing
from drawleaf.model.plan import Note
from drawleaf.model.steps import Step

LEAST_GROWTH, MOST_GROWTH = 1.05, 1.3
"""A picture is not enlarged for less, nor by more: its lettering grows with it."""
WIDER, WIDEST = (1.25, 1.15), 104.0
"""By how much a picture beside its words may be enlarged, and how wide (mm) it then is at most: the words need the rest."""
FEW = 2
"""More parts than these that come together crowd a picture with their arrows, numbers and marks."""
AIR = 6.0
"""Room in mm that stays free above a picture's growth: a line more than expected must not push the step's end off its page."""
SPARE = 3.0
"""Room in mm left on a page, since line breaks are only estimated in advance."""


@dataclass(frozen=True, slots=True)
class FilmLine:
    """From when on the film shows a step, its address there, and on paper the code of that address."""

    time: str
    address: str
    code: str


@dataclass(frozen=True, slots=True)
class StepPage:
    """Everything that a step's page shows."""

    step: Step
    text: StepText
    drawing: Drawing | None
    needs: tuple[Markup, ...]
    settings: tuple[Markup, ...]
    full: tuple[Caution, ...]
    short: tuple[Caution, ...]
    notes: tuple[Note, ...]
    after: tuple[tuple[str, tuple[Markup, ...]], ...]
    margin: tuple[Markup, ...] = ()
    """On paper, below what one needs: where else in the booklet to look."""
    film: FilmLine | None = None
    stage: str = ""
    way: Way = Way("high")
    new_page: bool = False
    whole: bool = True
    again: Drawing | None = None
    """The drawing once more, where a step is parted and its actions stand on a second page."""
    time: Markup = Markup("")
    time_mm: float = 0.0
    """How wide the note on time is set."""
    tail: tuple[tuple[str, tuple[Markup, ...]], ...] = ()
    """What follows the check, where it stands on the next page."""
    parted: bool = False
    """Whether what follows the check stands on the next page."""
    unchecked: bool = False
    """Whether the check stands there too."""
    upto: int = 0
    """How many actions stand before the page's turn, where the step is broken between two of them."""

    @property
    def head_height(self) -> str:
        """How high the head is at least, in mm for the style sheet, so that a long note on time stays clear of what follows."""
        return f"{time_height(self.time, self.time_mm):.1f}"

    @property
    def title_mm(self) -> str:
        """What the title leaves free at its right for the note on time, in mm for the style sheet."""
        return f"{self.time_mm + TIME_GAP:.0f}"

    @property
    def crowded(self) -> bool:
        """Whether the picture shows several parts that come together."""
        scene = self.step.scene
        return scene is not None and bool(scene.moves) and len(scene.new) > FEW

    @property
    def aside_mm(self) -> float:
        """How wide the column right of the words is, in mm."""
        return self.drawing.width_mm if self.beside and self.drawing else needs_width(self.way)

    @property
    def beside(self) -> bool:
        """Whether the drawing stands beside the words."""
        return self.way.beside or self.way.wraps

    @property
    def whole_names(self) -> bool:
        """Whether what one needs is set so wide that no long name has to be broken."""
        return not self.asides or self.way.needs_across or self.way.needs_first or self.aside_mm >= WHOLE_NAME

    @property
    def asides(self) -> bool:
        """Whether anything stands at the right of the words."""
        return self.beside or not self.way.needs_across

    @property
    def wraps(self) -> bool:
        """Whether the words that begin beside the drawing run on below it."""
        return self.way.wraps

    @property
    def tight(self) -> bool:
        """Whether the words are set closer, so that a long step stands on one page."""
        return self.way.tight


def gather(book: Book) -> dict[str, Any]:
    """The steps in order, each knowing the form in which it is set and whether it begins a page."""
    said: dict[Any, Step] = {}
    others = other_tools(book.derived) if book.for_print else ()
    pages = [_page(book, step, said, others) for step in book.derived.steps]
    opening = [page.step.stage != before for page, before in pairs(pages)]
    pages = [
        replace(page, stage=page.step.stage) if opens else page for page, opens in zip(pages, opening, strict=True)
    ]
    return (
        {"pages": _placed(book, pages), "others": [(one, runs_of(one.steps)) for one in others]}
        if book.for_print
        else {"pages": pages}
    )


def pairs(pages: list[StepPage]) -> list[tuple[StepPage, str | None]]:
    """Each step with the stage of the step before it."""
    return list(zip(pages, [None, *(page.step.stage for page in pages)], strict=False))


def _placed(book: Book, pages: list[StepPage]) -> list[StepPage]:
    """The steps shared out over the printed pages."""
    paper = paper_of(book.derived.plan.paper)
    blocks = [step_block(page, _drawings(book, page.step), paper, bool(page.stage)) for page in pages]
    placed: list[StepPage] = []
    room = paper.text_height - SPARE
    for sheet in arrange(blocks, room, room - STEPS_HEAD):
        growth = _growth(book, pages, blocks, sheet, paper)
        growing = any(_above(form.way) for form in sheet.forms)
        air = 0.0 if growing else _spare(blocks, sheet, paper) - AIR
        for place, form in enumerate(sheet.forms, sheet.first):
            page, last = pages[place], place == sheet.end - 1
            tailed, upto = sheet.tailed and last, sheet.upto if last else 0
            low = _drawings(book, page.step)[1]
            if sheet.overfull and low is not None:
                second = blocks[place].second or 0.0
                way = Way("high", tight=second > paper.text_height - SPARE)
                placed.append(replace(page, way=way, again=low, new_page=True, whole=False))
                continue
            drawing = _drawing_in(book, page.step, form.way)
            if drawing is not None and _above(form.way):
                drawing = _grown(drawing, growth)
            elif drawing is not None and not form.way.wraps:
                checked = not ((tailed and sheet.unchecked) or upto)
                drawing, used = _wider(page, drawing, form.way, paper, air, checked=checked, upto=upto or None)
                air -= used
            placed.append(
                replace(
                    page,
                    way=form.way,
                    after=() if tailed or upto else page.after,
                    tail=page.after if tailed or upto else (),
                    parted=tailed,
                    upto=upto,
                    again=again_beside(_drawings(book, page.step)) if upto else None,
                    unchecked=tailed and sheet.unchecked,
                    drawing=drawing,
                    new_page=place == sheet.first and not sheet.continued,
                    whole=not (sheet.overfull or tailed or upto),
                )
            )
    return placed


def _above(way: Way) -> bool:
    """Whether the drawing stands above the words, as wide as the page lets it be."""
    return not way.beside and not way.wraps


def _growth(book: Book, pages: Sequence[StepPage], blocks: Sequence[Block], sheet: Page, paper: Paper) -> float:
    """How much larger the drawings above their words can be, so that together they fill what the words of their page leave."""
    places = range(sheet.first, sheet.end)
    growing = [
        drawing
        for place, form in zip(places, sheet.forms, strict=True)
        if _above(form.way) and (drawing := _drawing_in(book, pages[place].step, form.way)) is not None
    ]
    if not growing:
        return 1.0
    widest = max(drawing.width_mm for drawing in growing)
    high = sum(drawing.height_mm for drawing in growing)
    return min(MOST_GROWTH, paper.text_width / widest, 1.0 + max(0.0, _spare(blocks, sheet, paper) - AIR) / high)


def _spare(blocks: Sequence[Block], sheet: Page, paper: Paper) -> float:
    """Millimetres of a page that its steps leave free."""
    room = paper.text_height - SPARE - (0.0 if sheet.first else STEPS_HEAD)
    room -= sheet.begun + blocks[sheet.first - 1].gap if sheet.continued else 0.0
    gaps = sum(blocks[place].gap for place in range(sheet.first, sheet.end - 1))
    return room - sum(form.height for form in sheet.forms) - gaps


def _wider(
    page: StepPage, drawing: Drawing, way: Way, paper: Paper, air: float, *, checked: bool, upto: int | None
) -> tuple[Drawing, float]:
    """A drawing beside its words as large as the ``air`` of its page (mm) lets it be, and how much of that it takes."""
    before = work_height(page, drawing, way, paper, checked=checked, upto=upto)
    for factor in WIDER:
        larger = _grown(drawing, factor)
        used = work_height(page, larger, way, paper, checked=checked, upto=upto) - before
        if larger.width_mm <= WIDEST and used <= air:
            return larger, max(0.0, used)
    return drawing, 0.0


def _grown(drawing: Drawing, factor: float) -> Drawing:
    """The drawing so much larger, where that is worth it."""
    if factor < LEAST_GROWTH:
        return drawing
    return replace(drawing, width_mm=drawing.width_mm * factor, height_mm=drawing.height_mm * factor)


def _drawings(book: Book, step: Step) -> tuple[Drawing | None, Drawing | None, Drawing | None]:
    """The high, the low and the narrow drawing of a step."""
    drawings, number = book.drawings, step.number
    return drawings.steps.get(number), drawings.steps_low.get(number), drawings.steps_narrow.get(number)


def _drawing_in(book: Book, step: Step, way: Way) -> Drawing | None:
    """The drawing with which a step is set so."""
    high, low, narrow = _drawings(book, step)
    return {"high": high, "low": low, "narrow": narrow, None: None}[way.drawing]


def _page(book: Book, step: Step, said: dict[Any, Step], others: Sequence[OtherTools]) -> StepPage:
    """``said`` remembers which step first gave a reason or another way: each is given once. On paper other tools for a step stand at the
    chapter's end, and the step says where."""
    text = book.texts[step.number]
    text = replace(text, actions=tuple(map(bound, text.actions)), check=bound(text.check) if text.check else None)
    first_reason = said.setdefault(text.why, step)
    first_ways = said.setdefault(text.another_way, step)
    first_check = said.setdefault((text.check, text.if_not), step)
    if book.for_print and text.if_not and first_check is not step:
        text = replace(text, if_not=_as_there(first_check))
    full, short = book.cautions_of(step)
    minds = tuple(dict.fromkeys(_mind(book, result) for result in book.derived.checks if _belongs(result, step)))
    time = _time(book, step)
    details = book.details_of(step)
    templates = book.drawings.templates_for.get(step.number, ())
    elsewhere: Told = (
        ("The joint", (joint_details(book, details),) if details else ()),
        ("Template", (marking_templates(book, templates),) if templates else ()),
    )
    after: Told = (
        ("Know this", minds),
        ("Why", (text.why,) if text.why and first_reason is step else ()),
        *book.lessons_of(step),
    )
    ways = tuple(authors_ways(book, step))
    if book.for_print:
        elsewhere = (
            *elsewhere,
            (ANOTHER_WAY, (*((where,) if (where := where_told(others, step)) else ()), *ways)),
        )
    else:
        told = ((*text.another_way, *ways), ()) if first_ways is step else (ways, (as_in(first_ways),))
        after = (*elsewhere, *after, (ANOTHER_WAY, told[0]), (ANOTHER_WAY, told[1] if text.another_way else ()))
        elsewhere = ()
    return StepPage(
        step=step,
        text=text,
        drawing=book.drawing_of(step),
        needs=tuple(needs(book, step)),
        settings=tuple(capitalized(one) for one in text.setup),
        full=full,
        short=short,
        notes=book.notes("step", step.id, *step.also),
        after=tuple((label, lines) for label, lines in after if lines),
        margin=tuple(
            Markup("<strong>{}.</strong> {}").format(label, line) for label, lines in elsewhere for line in lines
        ),
        time=time,
        time_mm=time_width(text.title, time, paper_of(book.derived.plan.paper)),
        film=_film(book, step),
    )


def _film(book: Book, step: Step) -> FilmLine | None:
    """Where the film shows the step; None where it does not."""
    film = book.derived.plan.film
    time = next((one for one in film.times if one.step in (step.id, *step.also)), None) if film is not None else None
    if film is None or time is None:
        return None
    address = film.at(time)
    return FilmLine(time.text, address, qr_picture(address) if book.for_print else "")


def _time(book: Book, step: Step) -> Markup:
    """``About 55 minutes, then wait 12 hours before step 30``."""
    work = Markup("About {}").format(book.formatter.minutes(step.minutes)) if step.minutes >= 1 else Markup("")
    if not step.wait_hours:
        return work
    wait = book.formatter.hours(step.wait_hours)
    words = Markup("{}, then wait {}").format(work, wait) if work else Markup("Wait {}").format(wait)
    following = next((one for one in book.derived.steps if one.number == step.next_after_wait), None)
    if following is None:
        return words
    return words + Markup(' before <a href="#step-{}">step&nbsp;{}</a>').format(following.id, following.number)


def _as_there(step: Step) -> Markup:
    """What to do where a check fails that was told before: ``As in step 12.``"""
    return Markup('As in <a href="#step-{}">step&nbsp;{}</a>.').format(step.id, step.number)


def _belongs(result: CheckResult, step: Step) -> bool:
    """Whether a finding is printed at this step, the first of its steps: one that gives whoever builds it something to do."""
    return bool(result.advice) and result.steps[:1] == (step.id,)


def _mind(book: Book, result: CheckResult) -> Markup:
    """A finding at its step: what to know and what to do about it. What the author accepts is no alarm."""
    advice = sentence_words(result.advice, book.formatter)
    if not result.open:
        return advice
    return Markup("{} {}").format(sentence_words(result.words, book.formatter), advice)


CHAPTER = Chapter("steps", "Steps", gather)
