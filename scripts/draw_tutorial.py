"""Draws the tutorial's pictures anew: each stage of docs/tutorial compiled, and one of its drawings as docs/pictures/tutorial-N.png.

Needs pdftoppm (poppler-utils) besides what drawleaf itself needs.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from drawleaf.book.output.pdf import make_pdf
from drawleaf.compiler import Choice, compile_plan

DOCS = Path(__file__).resolve().parent.parent / "docs"
SHOWN = {1: "cover", 2: "cover", 3: "exploded", 4: "exploded", 5: "cover"}
DOTS_PER_INCH = 80


def main() -> int:
    for number, what in SHOWN.items():
        with tempfile.TemporaryDirectory() as place:
            folder = Path(place) / "tray"
            folder.mkdir()
            shutil.copyfile(DOCS / "tutorial" / f"stage-{number}.yaml", folder / "plan.yaml")
            outcome = compile_plan(folder, Choice())
            if outcome.drawings is None:
                sys.stderr.write(f"stage {number} does not compile\n")
                return 1
            found = getattr(outcome.drawings, what)
            drawing = found[0] if isinstance(found, tuple) else found
            size = f"{drawing.width_mm}mm {drawing.height_mm}mm"
            page = f"<html lang='en'><title>x</title><style>@page {{size: {size}; margin: 0}} body {{margin: 0}} svg {{display: block}}</style>{drawing.svg}</html>"
            sheet = Path(place) / "page.pdf"
            sheet.write_bytes(make_pdf(page))
            target = DOCS / "pictures" / f"tutorial-{number}"
            command = ["pdftoppm", "-png", "-r", str(DOTS_PER_INCH), "-singlefile", str(sheet), str(target)]
            subprocess.run(command, check=True)
            sys.stdout.write(f"docs/pictures/{target.name}.png\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
