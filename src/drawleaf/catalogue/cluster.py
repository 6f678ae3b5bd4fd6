"""Booklets made by the workers of a Dask cluster, which the user has started.

Sources travel by content: a worker is told the digests of a plan's files and asks for the contents that it lacks. Each job goes to one worker at a time; one whose
worker dies goes to another, and a scheduler that restarts is looked for again. What comes back is taken only if it was made from the very files that lie here.
"""

from __future__ import annotations

import asyncio
import contextlib
import logging
import time
from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from drawleaf.catalogue.crew import TRIES
from drawleaf.catalogue.making import Job, Libraries, Made
from drawleaf.catalogue.on_worker import Reply, do, whole_version
from drawleaf.catalogue.parcels import Parcel, contents_of, packed
from drawleaf.catalogue.states import PlanStates

AHEAD = 2
"""Jobs that are given out for each worker, so that none waits for the next."""
PATIENCE_SECONDS = 60.0
"""So long are workers, or a scheduler that has gone, waited for."""
_LOOK_SECONDS = 2.0
_SCHEMES = ("tcp", "tls")
_CERTIFICATES = tuple(f"DASK_DISTRIBUTED__COMM__TLS__{one}" for one in ("CA_FILE", "CLIENT__CERT", "CLIENT__KEY"))
CHANGED_MEANWHILE = "A source was changed while it was made. Run it again."


class ClusterError(Exception):
    """There is no such cluster, or none that can be used; the text says why."""


@dataclass
class _Task:
    """A job on its way: the worker that it goes to, where that matters, and the contents that go with it."""

    place: int
    parcel: Parcel
    files: Mapping[str, Path]
    tries: int = 0
    given: dict[str, bytes] = field(default_factory=dict)
    worker: str | None = None


class Cluster:
    """The workers behind a scheduler's address, such as ``tcp://10.0.0.5:8786``."""

    def __init__(self, address: str, tell: Callable[[str], None], patience: float = PATIENCE_SECONDS) -> None:
        """``tell`` is told what the user should know of workers; ``patience`` is in seconds. Raises ClusterError where Dask is not installed, where this is
        no address of a scheduler, or where one that asks for certificates is given none."""
        try:
            import distributed
        except ImportError:
            raise ClusterError("--on needs Dask: pip install 'drawleaf[cluster]'.") from None
        self._distributed: Any = distributed
        self._address, self._tell, self._patience = address, tell, patience
        self._told: set[str] = set()
        _checked_address(address, distributed)
        logging.getLogger("distributed").setLevel(
            logging.CRITICAL
        )  # what it says of lost workers is told in our own words

    def make(self, jobs: Sequence[Job]) -> Iterator[tuple[int, Made]]:
        """All jobs, each by the worker that the scheduler chooses. Raises ClusterError where there is no scheduler or no fit worker."""
        waiting: deque[_Task] = deque()
        for place, job in enumerate(jobs):
            try:
                waiting.append(_Task(place, *packed(job)))
            except OSError as error:
                yield place, Made(told=f"{error.filename or job.folder}: cannot be read: {error.strerror or error}.")
        libraries = Libraries()
        gone_since: float | None = None
        while waiting:
            left = len(waiting)
            try:
                with self._client() as client:
                    for place, made in self._through(client, waiting):
                        gone_since = None
                        yield place, _checked(jobs[place], made, libraries)
            except (OSError, asyncio.CancelledError, self._distributed.client.FutureCancelledError) as error:
                # The scheduler has gone; the tasks that it had are back in line.
                now = time.monotonic()
                gone_since = now if gone_since is None or len(waiting) < left else gone_since
                if now - gone_since > self._patience:
                    raise ClusterError(
                        f"The scheduler at {self._address} does not answer ({type(error).__name__}). Run it again to go on."
                    ) from None
                self._once(f"The scheduler at {self._address} does not answer; it is waited for.")
                time.sleep(min(_LOOK_SECONDS, self._patience / 5))

    def _client(self) -> Any:
        return self._distributed.Client(self._address, timeout=min(10.0, self._patience), set_as_default=False)

    def _through(self, client: Any, waiting: deque[_Task]) -> Iterator[tuple[int, Made]]:
        """Jobs given out and taken in as long as the scheduler is there; those not taken in are put back in line when it goes."""
        fit = _Fit(self._once)
        running: dict[Any, _Task] = {}
        lone_since = time.monotonic()
        try:
            while waiting or running:
                workers = fit.among(client)
                if workers:
                    lone_since = time.monotonic()
                elif time.monotonic() - lone_since > self._patience:
                    raise ClusterError(
                        f"The scheduler at {self._address} has no worker that can be used. {fit.why}".rstrip()
                    )
                while waiting and len(running) < AHEAD * len(workers):
                    task = waiting.popleft()
                    running[self._sent(client, task, workers)] = task
                for future in self._finished(client, running):
                    made = self._taken(future, running[future], fit)
                    task = running.pop(future)  # not before: one that the scheduler takes with it goes back in line
                    if made is None:
                        waiting.appendleft(task)
                    else:
                        yield task.place, made
                if client.status != "running":
                    raise OSError("the scheduler has gone")
        finally:
            waiting.extend(running.values())
            for future in running:
                with contextlib.suppress(Exception):
                    future.cancel()

    def _sent(self, client: Any, task: _Task, workers: Sequence[str]) -> Any:
        """The job given out; to the worker that asked for its contents, if that is still there."""
        only = [task.worker] if task.worker in workers else list(workers)
        # Not pure: a job that is tried again is done again.
        # The workers are a wish: where these have gone, another may take it, and says so if it is of another version.
        given = (task.parcel, task.given, whole_version())
        return client.submit(do, *given, workers=only, allow_other_workers=True, pure=False)

    def _finished(self, client: Any, running: Mapping[Any, _Task]) -> list[Any]:
        """Those that are done; waits a little for the first."""
        if not running:
            time.sleep(min(0.2, self._patience / 5))
            return []
        with client.as_current(), contextlib.suppress(TimeoutError, asyncio.TimeoutError):
            self._distributed.wait(list(running), timeout=_LOOK_SECONDS, return_when="FIRST_COMPLETED")
        return [future for future in running if future.status in ("finished", "error", "cancelled", "lost")]

    def _taken(self, future: Any, task: _Task, fit: _Fit) -> Made | None:
        """What a job gave; None where it has to be given out again."""
        if future.status in ("cancelled", "lost"):
            return None
        try:
            reply: Reply = future.result()
        except Exception as error:  # whatever goes wrong on a worker is this job's failure alone
            if isinstance(error, OSError) and future.status != "error":
                raise  # the scheduler has gone
            task.tries += 1
            if task.tries < TRIES and not isinstance(error, self._distributed.KilledWorker):
                return None
            return Made(told=f"no worker could make it ({type(error).__name__}: {error}).")
        task.given, task.worker = {}, None
        if reply.another:
            fit.turned_away(reply.another)
            return None
        if reply.lacks:
            contents = contents_of(reply.lacks, task.files)
            if contents is None:
                return Made(told=CHANGED_MEANWHILE)
            task.given = contents
            return None
        return reply.made

    def _once(self, line: str) -> None:
        if line not in self._told:
            self._told.add(line)
            self._tell(line)


class _Fit:
    """Which workers may be given jobs: those with this very drawleaf. Each is asked once."""

    def __init__(self, tell: Callable[[str], None]) -> None:
        self._tell = tell
        self._versions: dict[str, str] = {}
        self.why = ""

    def among(self, client: Any) -> list[str]:
        """The addresses of the workers that are there and fit."""
        there = list(client.scheduler_info(n_workers=-1)["workers"])
        if fresh := [one for one in there if one not in self._versions]:
            found = client.run(whole_version, workers=fresh, on_error="return")
            for worker in fresh:
                self._look_at(worker, found.get(worker))
        return [one for one in there if self._versions.get(one) == whole_version()]

    def turned_away(self, version: str) -> None:
        """A worker has found itself to be of another version: all are asked anew."""
        self.why = f"It has drawleaf {version}; here it is {whole_version()}."
        self._versions = {}

    def _look_at(self, worker: str, version: object) -> None:
        if not isinstance(version, str):
            self._versions[worker] = ""
            self.why = f"{worker} has no drawleaf that can be used ({type(version).__name__}: {version})."
        else:
            self._versions[worker] = version
            if version == whole_version():
                return
            self.why = f"{worker} has drawleaf {version}; here it is {whole_version()}."
        self._tell(f"{self.why} It is given nothing.")


def _checked_address(address: str, distributed: Any) -> None:
    """Raises ClusterError for what would otherwise be told as a fault of Dask, or as a scheduler that does not answer."""
    try:
        scheme, place = distributed.comm.parse_address(address)
        distributed.comm.parse_host_port(place)
        if scheme not in _SCHEMES:
            raise ValueError(f"it begins with {scheme}://")
    except ValueError as error:
        message = (
            f"“{address}” is no address of a scheduler ({error}). Write it as tcp://10.0.0.5:8786, or with tls://."
        )
        raise ClusterError(message) from None
    if scheme != "tls":
        return
    try:
        known = distributed.Security().get_connection_args("client").get("ssl_context")
    except OSError as error:
        raise ClusterError(
            f"The certificates for {address} cannot be used: {error.filename or ''} {error.strerror or error}".replace(
                "  ", " "
            )
        ) from None
    if known is None:
        raise ClusterError(f"{address} asks for certificates. Name them in {', '.join(_CERTIFICATES)}.")


def _checked(job: Job, made: Made, libraries: Libraries) -> Made:
    """What was made, if it was made from the files that lie here."""
    if made.states is None:
        return made
    _, entries = libraries.of(job.folder, job.choice.kit_file)
    now = PlanStates(job.folder, job.choice.kit_file, entries)
    try:
        same = all(now.of(note) == state for note, state in made.states.items())
    except (KeyError, OSError):
        same = False
    if same:
        return made
    return Made(told=CHANGED_MEANWHILE, seconds=made.seconds)
