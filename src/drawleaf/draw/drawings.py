"""All drawings of a plan, in one call."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.draw.cover import draw_cover
from drawleaf.draw.details import draw_details
from drawleaf.draw.elevations import draw_elevations
from drawleaf.draw.exploded import draw_exploded
from drawleaf.draw.layout_drawing import draw_layout
from drawleaf.draw.part_drawing import draw_part
from drawleaf.draw.scales import scale_for, scale_text
from drawleaf.draw.sections import draw_sections
from drawleaf.draw.step_drawing import LOW, NARROW, TALL, draw_step
from drawleaf.draw.svg import write
from drawleaf.draw.words import count_words, listed
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing, Drawings
from drawleaf.model.lists import BoardLayout, SheetLayout
from drawleaf.solids.build import Solids
from drawleaf.units import Length

_ROOM = (149.0, 92.0)


def draw_all(derived: Derived, solids: Solids) -> Drawings:
    """Every drawing that the booklet shows. Computed from the solids and the lists; nothing is placed by hand."""
    steps = {step.number: draw_step(derived, solids, step, (TALL, LOW, NARROW)) for step in derived.steps}
    details, detail_of = draw_details(derived, solids)
    return Drawings(
        cover=draw_cover(derived, solids),
        exploded=draw_exploded(derived, solids),
        elevations=draw_elevations(derived, solids),
        sections=draw_sections(derived, solids),
        details=details,
        detail_of=detail_of,
        parts={item.number: draw_part(derived, solids, item) for item in derived.cut_list.items},
        steps={number: drawn[0] for number, drawn in steps.items() if drawn},
        steps_low={number: drawn[1] for number, drawn in steps.items() if drawn},
        steps_narrow={number: drawn[2] for number, drawn in steps.items() if drawn},
        sheets={layout.number: _sheet(derived, layout) for layout in derived.layouts.sheets},
        boards=_boards(derived, derived.layouts.boards),
    )


def _sheet(derived: Derived, layout: SheetLayout) -> Drawing:
    name = f"Sheet {layout.number}: {layout.stock.name}"
    return _layout(derived, layout, "sheet", name, (layout.sheet.length, layout.sheet.width))


def _boards(derived: Derived, layouts: Sequence[BoardLayout]) -> dict[int, Drawing]:
    drawings: dict[int, Drawing] = {}
    for layout in layouts:
        name = f"Board {layout.number}: {layout.stock.name}"
        drawings[layout.number] = _layout(derived, layout, "board", name, (layout.length, layout.board.width))
    return drawings


def _layout(
    derived: Derived, layout: SheetLayout | BoardLayout, kind: str, title: str, size: tuple[Length, Length]
) -> Drawing:
    form = derived.plan.lengths
    reduction = scale_for(size[0].mm, size[1].mm, *_ROOM)
    # The key below the layout is no wider than the layout itself needs: the list of cuts may stand beside it.
    key = min(170.0, max(size[0].mm / reduction + 20.0, 90.0))
    drawn = draw_layout(form, layout.stock, size, layout.placed, layout.cuts, layout.offcuts, (key, 110.0), reduction)
    names = [f"{piece.label}{f' strip {piece.strip}' if piece.strip else ''}" for piece in layout.placed]
    alt = (
        f"{title}, {form.text(size[0])} by {form.text(size[1])}, drawn to scale. Cut from it: {listed(names, 20)}. "
        f"{count_words(len(layout.cuts), 'cut')} numbered in order"
        + (f", {count_words(len(layout.offcuts), 'offcut')} left over, hatched." if layout.offcuts else ".")
    )
    svg = write(drawn.sketch, drawn.width, drawn.height, title, alt)
    return Drawing(
        f"{kind}-{layout.number:02d}", kind, title, svg, alt, drawn.width, drawn.height, scale_text(reduction)
    )
