"""What the worst template of a stranger's can take: each bomb among the templates of a small plan, the page made for a screen."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from bombs import BOMBS
from drawleaf.book.output.apart import end_renderer, rendering
from drawleaf.codes.samples import CRATE
from drawleaf.compiler import Choice, read_and_resolve, work_out
from drawleaf.draw.drawings import draw_all


def measure() -> dict[str, float]:
    """``template_bomb_seconds_worst``, of processor time, and ``template_bomb_mb_worst``: of the process that renders the page."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        (folder / "plan.yaml").write_text(CRATE, encoding="utf-8")
        outcome, plan = read_and_resolve(folder, Choice())
        assert plan is not None
        outcome, solids = work_out(outcome, plan)
        assert outcome.derived is not None
        assert solids is not None
        drawings = draw_all(outcome.derived, solids)
        cover = folder / "templates" / "chapters" / "cover.html.j2"
        cover.parent.mkdir(parents=True)
        made = []
        for text in BOMBS.values():
            cover.write_text(text, encoding="utf-8")
            made.append(rendering(outcome.derived, drawings, for_print=False, plan_folder=folder))
            assert made[-1].page is None, f"let through: {text}"
    end_renderer()
    return {
        "template_bomb_seconds_worst": max(one.seconds for one in made),
        "template_bomb_mb_worst": max(one.megabytes for one in made),
    }


if __name__ == "__main__":
    sys.stdout.write(f"{measure()}\n")
