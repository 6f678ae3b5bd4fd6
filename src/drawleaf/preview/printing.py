"""The process that makes the printed pages for the preview: a plan with its screen drawings comes in, a PDF goes out.

``python -m drawleaf.preview.printing`` reads a pickled job from its input and writes the PDF to its output; where there is none, it ends with
``NO_PAGES`` and says why, in plain words, on its error output. It is a process of its own so that it can be ended at once when the author
saves again.
"""

from __future__ import annotations

import pickle
import sys
from dataclasses import replace
from pathlib import Path

from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawings

NO_PAGES = 3
"""The process ends with this where the plan or the computer is at fault, which it has then told."""


def printed(derived: Derived, drawings: Drawings, plan_folder: Path) -> bytes:
    """The PDF as a compile gives it. Only the drawings of steps and parts for paper are made anew; the others are those of the screen."""
    from drawleaf.book.output.booklet import make_html
    from drawleaf.book.output.pdf import make_pdf
    from drawleaf.draw.drawings import Desk
    from drawleaf.solids.build import build_solids

    desk = Desk(derived, build_solids(derived.plan), for_print=True)
    rooms = {step.number: desk.step(step) for step in derived.steps}
    low = {number: drawn[1] for number, drawn in rooms.items() if len(drawn) > 1}
    narrow = {number: drawn[2] for number, drawn in rooms.items() if len(drawn) > 1}
    larger = {item.number: desk.part(item)[1:] for item in derived.cut_list.items}
    drawings = replace(drawings, steps_low=low, steps_narrow=narrow, parts_larger=larger)
    html = make_html(derived, drawings, for_print=True, plan_folder=plan_folder)
    return make_pdf(html, plan_folder=plan_folder)


def main() -> int:
    """One job; gives how the process ends."""
    from drawleaf.book.output.pdf import MissingRendererError, RefusedAddressesError
    from drawleaf.book.words.own_templates import TemplateFaultError

    job = pickle.load(sys.stdin.buffer)
    try:
        pages = printed(*job)
    except (MissingRendererError, RefusedAddressesError, TemplateFaultError) as error:
        sys.stderr.write(str(error))
        return NO_PAGES
    sys.stdout.buffer.write(pages)
    return 0


if __name__ == "__main__":
    sys.exit(main())
