"""``drawleaf start``: a small plan of one's own to change, in a folder of its own."""

from __future__ import annotations

import datetime
import re
from pathlib import Path

from drawleaf.english import capitalized
from drawleaf.resources import product_folder

_LONGEST_NAME = 60
_NOT_IN_A_NAME = re.compile(r'[\x00-\x1f<>:"/\\|?*]')


class StartError(Exception):
    """The folder cannot be made; the message says why and what to do."""


def start(name: str, kind: str, inside: Path, today: datetime.date) -> Path:
    """Writes the plan and gives its folder, ``inside/name``. Nothing that is there already is touched.

    ``kind`` names one of ``templates/starters``. Raises StartError where the name is no folder's name or the folder cannot be made.
    """
    _refuse_odd(name)
    folder = inside / name
    text = (product_folder("templates") / "starters" / kind / "plan.yaml").read_text(encoding="utf-8")
    text = text.replace("@title@", _title(name)).replace("@date@", today.isoformat())
    try:
        folder.mkdir()
    except FileExistsError:
        raise StartError(f"{folder} is there already and stays as it is. Choose another name.") from None
    except FileNotFoundError:
        raise StartError(f"There is no folder “{inside}” to put it in. Make that first.") from None
    except OSError as error:
        raise StartError(f"{folder} cannot be made: {error.strerror}.") from None
    try:
        (folder / "plan.yaml").write_text(text, encoding="utf-8")
    except OSError as error:
        raise StartError(f"{folder / 'plan.yaml'} cannot be written: {error.strerror}.") from None
    return folder


def parting_words(folder: Path) -> str:
    """What to do next."""
    shown = _quoted(folder)
    return (
        f"Your plan is in {folder / 'plan.yaml'}.\n"
        f"\n"
        f"See it:      drawleaf preview {shown}\n"
        f"Change it:   open plan.yaml in an editor, change a number, save, and watch the page.\n"
        f"Check it:    drawleaf check {shown}\n"
        f"Print it:    drawleaf compile {shown}"
    )


def _refuse_odd(name: str) -> None:
    odd = _NOT_IN_A_NAME.search(name)
    if odd or name.strip(". ") != name or not name or name.startswith("-") or len(name) > _LONGEST_NAME:
        raise StartError(f"“{name[:_LONGEST_NAME]}” cannot be a folder's name. Take a short one, such as herb-trough.")


def _title(name: str) -> str:
    """``herb-trough`` as the booklet's title: Herb trough. Safe within double quotes of the source."""
    words = re.sub(r"[-_\s]+", " ", name).strip()
    return capitalized(words)


def _quoted(folder: Path) -> str:
    text = str(folder)
    return f'"{text}"' if " " in text else text
