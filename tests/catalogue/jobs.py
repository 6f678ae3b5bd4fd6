"""What a crew of real processes does in tests: booklets of one small file, jobs that die, jobs that wait to be killed."""

from __future__ import annotations

import os
import signal
from pathlib import Path

from drawleaf.catalogue.making import Job, Libraries, Made
from drawleaf.catalogue.sharing import Bench


def one_file(job: Job, libraries: Libraries, bench: Bench) -> Made:
    """A booklet of one file that says whose it is; a plan called ``deadly`` ends its process, one called ``once`` does so the first time."""
    mark = Path(job.folder) / "tried"
    if job.folder.name == "deadly" or (job.folder.name == "once" and not mark.exists()):
        mark.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return Made({"name.txt": job.folder.name.encode()})
