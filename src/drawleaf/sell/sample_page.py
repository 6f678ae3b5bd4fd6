"""The free taste on a screen: some screens of the tablet edition, marked as a sample, with nothing of the other screens inside.

What is out of it is cut out of the text of the page; what stays keeps its bytes. Links that lead out go, their words stay. Of what can be turned
the steps of the sample stay, with the parts that they show.
"""

from __future__ import annotations

import html
import json
from collections.abc import Collection, Iterator, Sequence

from drawleaf.book.output.turning import DATA_ID, LIBRARY_ID
from drawleaf.book.output.turning_share import scenes_of
from drawleaf.sell.cover_picture import COVER
from drawleaf.sell.page_parts import Edit, Part, edited, page_parts
from drawleaf.sell.sample import CHAPTERS, STEPS, SampleError

ONE_PICTURE = "exploded"
"""A chapter of which the usual sample has the first picture alone."""


def make_page_sample(page: str, screens: Collection[str] | None = None, mark: str = "Sample: {} of {} screens") -> str:
    """The tablet edition with those screens, named by their ids (a good choice where None is given). Raises SampleError."""
    root = page_parts(page)
    main = next((part for part in root.all() if part.tag == "main"), None)
    known = [part for part in main.all() if _is_screen(part)] if main is not None else []
    if main is None or not known:
        raise SampleError("the HTML edition has no screens: compile the plan anew")
    wanted = _usual(known) if screens is None else set(screens)
    chosen = [part for part in known if part.id in wanted]
    if not chosen:
        raise SampleError("none of those screens is in the HTML edition")
    if len(chosen) == len(known):
        raise SampleError("that is the whole booklet, and no sample")
    said = mark.format(len(chosen), len(known))
    cuts = list(_others(main, chosen))
    if screens is None:
        cuts += _later_pictures(chosen)
    left = _left(root, cuts)
    edits = [*cuts, *_links(left, main), *_marks(root, chosen, known, said)]
    return edited(page, [*edits, *_turning(page, root, left)])


def screen_ids(page: str) -> tuple[str, ...]:
    """The ids of all screens, in their order."""
    return tuple(part.id for part in page_parts(page).all() if _is_screen(part))


def _is_screen(part: Part) -> bool:
    return part.tag == "section" and "screen" in part.classes


def _usual(known: Sequence[Part]) -> set[str]:
    steps = [part.id for part in known if "data-step" in part.attributes]
    return {COVER, *CHAPTERS, *steps[:STEPS]}


def _others(part: Part, chosen: Sequence[Part]) -> Iterator[Edit]:
    """Takes out all that is inside an element but the screens that were chosen and what holds them."""
    at = part.inner
    for inner in part.parts:
        if inner in chosen:
            yield Edit(at, inner.start, "\n")
        elif any(one.start > inner.start and one.end <= inner.inner_end for one in chosen):
            yield Edit(at, inner.start, "\n")
            yield from _others(inner, chosen)
        else:
            continue
        at = inner.end
    yield Edit(at, part.inner_end, "\n")


def _later_pictures(chosen: Sequence[Part]) -> Iterator[Edit]:
    for screen in chosen:
        if screen.id == ONE_PICTURE:
            pictures = [part for part in screen.all() if part.tag == "figure"]
            yield from (Edit(part.start, part.end) for part in pictures[1:])


def _left(root: Part, cuts: Sequence[Edit]) -> list[Part]:
    """The elements that stay."""
    return [part for part in root.all() if not any(cut.start <= part.start and part.end <= cut.end for cut in cuts)]


def _links(left: Sequence[Part], main: Part) -> Iterator[Edit]:
    """Takes a link off its words where it leads out of the sample; a button of the frame goes with its words."""
    ids = {part.id for part in left if part.id}
    for part in left:
        address = part.attributes.get("href", "")
        if part.tag != "a" or not address.startswith("#") or address[1:] in ids:
            continue
        if main.start < part.start < main.end:
            yield Edit(part.start, part.inner)
            yield Edit(part.inner_end, part.end)
        else:
            yield Edit(part.start, part.end)


def _marks(root: Part, chosen: Sequence[Part], known: Sequence[Part], said: str) -> Iterator[Edit]:
    """Says on each screen, and in the title, that it is a sample; ticks in it are not those of the plan itself."""
    told = html.escape(said)
    for screen in chosen:
        yield Edit(screen.inner_end, screen.inner_end, f'<p class="soft sample">{told}</p>\n')
    for part in root.all():
        if part.tag == "title":
            yield Edit(part.inner_end, part.inner_end, f". {told}")
            break
    body = next((part for part in root.all() if part.tag == "body"), None)
    if body is not None:
        steps = sum("data-step" in part.attributes for part in known)
        given = body.attributes | {"data-booklet": body.attributes.get("data-booklet", "") + ":sample"}
        given["data-steps"] = str(steps)
        attributes = "".join(f' {name}="{html.escape(value)}"' for name, value in given.items())
        yield Edit(body.start, body.inner, f"<body{attributes}>")


def _turning(page: str, root: Part, left: Sequence[Part]) -> Iterator[Edit]:
    """What can be turned, as far as its drawings are in the sample."""
    held = next((part for part in root.all() if part.tag == "script" and part.id == DATA_ID), None)
    if held is None:
        return
    drawings = {part.attributes["data-drawing"] for part in left if "data-drawing" in part.attributes}
    data = scenes_of(json.loads(page[held.inner : held.inner_end]), drawings)
    if data is None:
        # The scripts find no data, and leave the page as it is.
        yield from (
            Edit(part.start, part.end)
            for part in root.all()
            if part.tag == "script" and part.id in (DATA_ID, LIBRARY_ID)
        )
        return
    told = {
        "type": "application/json",
        "id": DATA_ID,
        "data-drawings": " ".join(one["drawing"] for one in data["steps"]),
        "data-whole": "",
        "data-sheets": "{}",
    }
    attributes = "".join(f' {name}="{html.escape(value)}"' for name, value in told.items())
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")
    yield Edit(held.start, held.end, f"<script{attributes}>{text}</script>")
