"""A real Dask scheduler with real workers on this machine: one dies over its work, one is of another version, and the bytes are the same."""

from __future__ import annotations

import json
import os
import shutil
import socket
import subprocess
import sys
import time
from collections import deque
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, nullcontext
from pathlib import Path
from types import SimpleNamespace
from typing import NoReturn

import pytest
from tests.conftest import ROOT, TINY

from drawleaf.catalogue.building import Builder, What
from drawleaf.catalogue.cluster import Cluster, ClusterError, _Task
from drawleaf.catalogue.crew import Alone
from drawleaf.catalogue.parcels import Parcel
from drawleaf.catalogue.reading import read_catalogue
from drawleaf.catalogue.store import Store
from drawleaf.compiler import Choice

distributed = pytest.importorskip("distributed", reason="the extra drawleaf[cluster] is not installed")
dask = pytest.importorskip("dask", reason="the extra drawleaf[cluster] is not installed")
HERE = Path(__file__).resolve().parent


@contextmanager
def running(*command: str, **environment: str) -> Iterator[subprocess.Popen[bytes]]:
    path = os.pathsep.join([str(ROOT / "src"), str(HERE.parent)])
    process = subprocess.Popen(
        [sys.executable, "-m", *command],
        env={**os.environ, "PYTHONPATH": path, **environment},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        yield process
    finally:
        process.kill()
        process.wait()


@contextmanager
def a_scheduler(place: Path, port: str = "0", *more: str) -> Iterator[str]:
    """A scheduler on a free port, as its own command starts it; its address."""
    file = place / "scheduler.json"
    file.unlink(missing_ok=True)
    options = ("--host", "127.0.0.1", "--port", port, "--no-dashboard", "--no-show", "--scheduler-file", str(file))
    with running("distributed.cli.dask_scheduler", *options, *more):
        until = time.monotonic() + 120
        while not file.exists() and time.monotonic() < until:
            time.sleep(0.05)
        yield str(file)


def a_worker(file: str, name: str, *more: str, **environment: str):
    options = ("--scheduler-file", file, "--nthreads", "1", "--no-nanny", "--no-dashboard", "--name", name, *more)
    return running("distributed.cli.dask_worker", *options, "--preload", str(HERE / "quick_ends.py"), **environment)


def address_with(file: str, workers: int) -> str:
    """The scheduler's address, once so many workers are there."""
    address = json.loads(Path(file).read_text())["address"]
    with distributed.Client(address, timeout=120, set_as_default=False) as client:
        client.wait_for_workers(workers, timeout=120)
    return address


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A catalogue of two booklets of one plan, and one of a plan with a mistake, drawing on a shared folder above them."""
    for name, text in (("tray", TINY), ("wrong", TINY.replace("pine board", "no such wood"))):
        (tmp_path / "plans" / name).mkdir(parents=True)
        (tmp_path / "plans" / name / "plan.yaml").write_text(text)
    (tmp_path / "shared").mkdir()
    (tmp_path / "shared" / "prices.yaml").write_text((ROOT / "shared" / "prices.yaml").read_text())
    (tmp_path / "catalogue.yaml").write_text(
        "plans:\n  - {plan: plans/tray, units: [as written, mm]}\n  - {plan: plans/wrong}\n"
    )
    return tmp_path


def contents(folder: Path) -> dict[str, bytes]:
    return {str(one.relative_to(folder)): one.read_bytes() for one in folder.rglob("*") if one.is_file()}


def built(place: Path, out: str, crew) -> dict[str, What]:
    builder = Builder(Store(place / f"store of {out}"))
    known = read_catalogue(place / "catalogue.yaml", builder.libraries, place / out)
    done = list(builder.do(builder.tasks(known.booklets), crew))
    assert len({one.booklet.target for one in done}) == len(done) == 3, "each booklet is told once"
    return {one.booklet.name: one.what for one in done}


def test_a_worker_that_dies_changes_nothing(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from tests.catalogue import quick_ends

    monkeypatch.setattr("drawleaf.book.output.pdf.make_pdf", quick_ends.no_pdf)
    monkeypatch.setattr("drawleaf.book.page.fonts._subset", lambda file, characters: b"")
    said: list[str] = []
    with a_scheduler(place) as file, a_worker(file, "deadly", DEADLY="yes") as deadly, a_worker(file, "good"):
        found = built(place, "there", Cluster(address_with(file, 2), said.append, patience=120))
        deadly.wait(120)
    assert deadly.returncode == -9, "it was given work, and died over it"
    assert found == {"tray": What.MAKE, "tray-mm": What.MAKE, "wrong": What.FAILED}
    assert built(place, "here", Alone()) == found
    assert contents(place / "there") == contents(place / "here")
    assert said == []


def test_a_worker_of_another_version_is_told_and_given_nothing(place: Path) -> None:
    """Where there is no other, that is why nothing can be made."""
    said: list[str] = []
    with a_scheduler(place) as file, a_worker(file, "old", SOURCE_DATE_EPOCH="1"):
        cluster = Cluster(address_with(file, 1), said.append, patience=3)
        with pytest.raises(ClusterError, match="has no worker that can be used"):
            built(place, "there", cluster)
    assert len(said) == 1
    assert "It is given nothing." in said[0]
    assert not (place / "there").exists()


def test_a_scheduler_that_is_not_there_is_told(place: Path) -> None:
    with pytest.raises(ClusterError, match="does not answer"):
        built(place, "there", Cluster("tcp://127.0.0.1:9", lambda _: None, patience=1))


@pytest.mark.parametrize(
    ("address", "told"),
    [
        ("10.0.0.5", "is no address of a scheduler"),
        ("http://10.0.0.5:8786", "is no address of a scheduler"),
        ("tls://10.0.0.5:8786", "asks for certificates. Name them in DASK_DISTRIBUTED__COMM__TLS__CA_FILE"),
    ],
)
def test_what_is_no_way_to_a_scheduler_is_told_at_once(address: str, told: str) -> None:
    """Dask raises errors of its own kinds for these, after it has begun."""
    with pytest.raises(ClusterError, match=told):
        Cluster(address, lambda _: None)


@pytest.fixture
def certificate(tmp_path: Path) -> dict[str, str]:
    """One that is its own authority, as options of Dask's commands."""
    openssl = shutil.which("openssl")
    if openssl is None:
        pytest.skip("certificates are made with OpenSSL, which is not here")
    key, cert = str(tmp_path / "key.pem"), str(tmp_path / "cert.pem")
    asked = ("req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj", "/CN=localhost")
    subprocess.run([openssl, *asked, "-keyout", key, "-out", cert], check=True, capture_output=True)
    return {"--tls-ca-file": cert, "--tls-cert": cert, "--tls-key": key}


def test_a_scheduler_that_restarts_is_waited_for(place: Path, certificate: dict[str, str]) -> None:
    """Behind certificates. When the first booklet is there it ends, and comes again at its address: the others follow."""
    options = [word for pair in certificate.items() for word in pair]
    names = dict(zip(("ca-file", "client.cert", "client.key"), certificate.values(), strict=True))
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = str(free.getsockname()[1])

    @contextmanager
    def both() -> Iterator[None]:
        with a_scheduler(place, port, *options) as file, a_worker(file, "one", *options):
            yield

    said: list[str] = []
    with ExitStack() as standing, dask.config.set({f"distributed.comm.tls.{key}": file for key, file in names.items()}):
        standing.enter_context(both())
        builder = Builder(Store(place / "store of there"))
        known = read_catalogue(place / "catalogue.yaml", builder.libraries, place / "there")
        cluster = Cluster(f"tls://127.0.0.1:{port}", said.append, patience=120)
        found: dict[str, What] = {}
        for done in builder.do(builder.tasks(known.booklets), cluster):
            assert done.booklet.name not in found
            found[done.booklet.name] = done.what
            if len(found) == 1:
                standing.close()
                standing.enter_context(both())
    assert found == {"tray": What.MAKE, "tray-mm": What.MAKE, "wrong": What.FAILED}
    assert {one.split("/")[0] for one in contents(place / "there")} == {"tray", "tray-mm"}


class Answer:
    """A job that was given out, and whose answer cannot be had."""

    def __init__(self, status: str) -> None:
        self.status = status

    def result(self) -> NoReturn:
        raise OSError("gone")

    def cancel(self) -> None:
        pass


class OneWorker:
    """A client of a scheduler with one worker, which answers all jobs so."""

    status = "running"
    as_current = nullcontext

    def __init__(self, answer: str) -> None:
        self.answer = answer

    def scheduler_info(self, n_workers: int) -> dict[str, dict[str, object]]:
        return {"workers": {"one": {}}}

    def run(self, ask: Callable[[], str], workers: list[str], on_error: str) -> dict[str, str]:
        return {one: ask() for one in workers}

    def submit(self, *_: object, **__: object) -> Answer:
        return Answer(self.answer)


@pytest.mark.parametrize("answer", ["finished", "error"])
def test_no_job_is_lost_with_the_scheduler(answer: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """One whose answer cannot be fetched goes back in line; one that the worker itself failed at is told in the end."""
    cluster = Cluster("tcp://127.0.0.1:9", lambda _: None)
    monkeypatch.setattr(cluster, "_distributed", SimpleNamespace(wait=lambda *_, **__: None, KilledWorker=KeyError))
    waiting = deque([_Task(0, Parcel((), "plans/tray", Choice()), {})])
    through = cluster._through(OneWorker(answer), waiting)
    if answer == "finished":
        with pytest.raises(OSError, match="gone"):
            list(through)
        assert len(waiting) == 1
    else:
        ((place, made),) = through
        assert (place, made.files) == (0, {})
        assert made.told == "no worker could make it (OSError: gone)."
