"""What the worst template of a stranger's can take: each bomb among the templates of a small plan, the page made for a screen."""

from __future__ import annotations

import resource
import sys
import tempfile
from contextlib import suppress
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from bombs import BOMBS
from drawleaf.book.output.booklet import make_html
from drawleaf.book.words.own_templates import TemplateFaultError
from drawleaf.codes.samples import CRATE
from drawleaf.compiler import Choice, read_and_resolve, work_out
from drawleaf.draw.drawings import draw_all


def _spent() -> float:
    """Processor seconds of all processes that have ended."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def measure() -> dict[str, float]:
    """``template_bomb_seconds_worst``, of processor time, and ``template_bomb_mb_worst``: of the process that renders, its start included."""
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
        worst = 0.0
        for text in BOMBS.values():
            cover.write_text(text, encoding="utf-8")
            begun = _spent()
            with suppress(TemplateFaultError):
                make_html(outcome.derived, drawings, for_print=False, plan_folder=folder)
                raise AssertionError(f"let through: {text}")
            worst = max(worst, _spent() - begun)
    scale = 1 if sys.platform == "darwin" else 1024
    megabytes = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * scale / 1e6
    return {"template_bomb_seconds_worst": worst, "template_bomb_mb_worst": megabytes}


if __name__ == "__main__":
    sys.stdout.write(f"{measure()}\n")
