"""Serves the preview on this computer alone, and watches the plan's folder."""

from __future__ import annotations

import asyncio
import contextlib
import json
import multiprocessing
import os
import secrets
import socket
import threading
from collections.abc import AsyncIterator, Iterable
from math import isfinite
from pathlib import Path
from typing import Any

import uvicorn
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect, Request
from starlette.responses import HTMLResponse, JSONResponse, Response, StreamingResponse
from starlette.routing import Mount, Route
from watchfiles import watch

from drawleaf.compiler import Choice
from drawleaf.preview.guard import Guard
from drawleaf.preview.page import BOOKLET_POLICY, asset, page, policy
from drawleaf.preview.session import Asked, Session, drawn_on
from drawleaf.source.stamps import stamp_of

LOOPBACK = "127.0.0.1"
_LARGEST_MESSAGE = 20_000
_PULSE_SECONDS = 15.0
_REST_SECONDS = 1.0


class Preview:
    """The web application around a session. Its address begins with ``token``, which nobody else can know."""

    def __init__(self, folder: Path, choice: Choice, token: str) -> None:
        self.folder = folder
        self.token = token
        self._offered: set[str] = set()
        self.session = Session(folder, choice, self._news)
        self._listeners: set[asyncio.Queue[tuple[str, Any] | None]] = set()
        self._loop: asyncio.AbstractEventLoop | None = None
        self._stop_watching = threading.Event()
        self._threads: tuple[threading.Thread, ...] = ()

    def application(self, port: int) -> Guard:
        """The guarded application for a port."""
        routes = [
            Route("/", self._page),
            Route("/booklet", self._booklet),
            Route("/news", self._stream),
            Route("/source", self._source),
            Route("/name", self._name),
            Route("/shapes", self._shapes),
            Route("/editions", self._editions),
            Route("/assets/{name}", self._asset),
            Route("/shown", self._shown, methods=["POST"]),
            Route("/edition", self._edition, methods=["POST"]),
            Route("/printed", self._printed, methods=["POST"]),
            Route("/page/{number:int}", self._sheet),
        ]
        behind = [Mount(f"/{self.token}", routes=routes)]
        return Guard(Starlette(routes=behind, lifespan=self._lifespan), port, policy(), self.token)

    @contextlib.asynccontextmanager
    async def _lifespan(self, _app: Starlette) -> AsyncIterator[None]:
        self._loop = asyncio.get_running_loop()
        work = threading.Thread(target=self.session.run, name="compile", daemon=True)
        eyes = threading.Thread(target=self._watch, name="watch", daemon=True)
        self._threads = (work, eyes)
        work.start()
        eyes.start()
        yield
        self._stop_watching.set()
        self.session.stop()

    def hang_up(self) -> None:
        """End all streams, so that the server can stop."""
        for queue in self._listeners:
            queue.put_nowait(None)

    def at_rest(self, seconds: float) -> bool:
        """Whether both threads end within so many seconds each."""
        for thread in self._threads:
            thread.join(seconds)
        return not any(thread.is_alive() for thread in self._threads)

    def _watch(self) -> None:
        """Tells the session of every save in the plan's folder and in what it draws on. One save may be reported twice: work is not begun
        anew where nothing has changed since. Folders may come, go and come back: what is watched follows within a second."""
        while not self._stop_watching.is_set():
            watched = _there(drawn_on(self.folder))
            try:
                for _ in watch(
                    *watched,
                    stop_event=self._stop_watching,
                    step=20,
                    debounce=200,
                    rust_timeout=1000,
                    yield_on_timeout=True,
                ):
                    folders = drawn_on(self.folder)
                    self.session.stands(stamp_of(folders))
                    if _there(folders) != watched:
                        break
            except (OSError, RuntimeError):  # one of them has just gone
                self._stop_watching.wait(0.5)

    def _news(self, kind: str, what: dict[str, Any]) -> None:
        """From the session's thread to every page that listens."""
        if self._loop is None or self._loop.is_closed():
            return
        with contextlib.suppress(RuntimeError):  # the loop has just been closed
            self._loop.call_soon_threadsafe(self._spread, kind, what)

    def _spread(self, kind: str, what: dict[str, Any]) -> None:
        for queue in self._listeners:
            queue.put_nowait((kind, what))

    async def _stream(self, _request: Request) -> StreamingResponse:
        return StreamingResponse(self._events(), media_type="text/event-stream")

    async def _events(self) -> AsyncIterator[str]:
        """Server-sent events (WHATWG HTML, 9.2)."""
        queue: asyncio.Queue[tuple[str, Any] | None] = asyncio.Queue()
        self._listeners.add(queue)
        try:
            yield _event("state", self.session.now.state())
            yield _event("printed", self.session.printer.now.told())
            while True:
                try:
                    message = await asyncio.wait_for(queue.get(), _PULSE_SECONDS)
                except TimeoutError:
                    yield ": still here\n\n"
                    continue
                if message is None:
                    return
                yield _event(*message)
        finally:
            self._listeners.discard(queue)

    async def _page(self, _request: Request) -> HTMLResponse:
        return HTMLResponse(page(self.folder.name))

    async def _booklet(self, _request: Request) -> Response:
        booklet = self.session.now.booklet
        if booklet is None or booklet.html is None:
            return Response("There is no booklet yet.", 404, media_type="text/plain")
        return HTMLResponse(booklet.html, headers={"content-security-policy": BOOKLET_POLICY})

    async def _source(self, request: Request) -> JSONResponse:
        what, said = request.query_params.get("what", ""), request.query_params.get("said", "")
        upright = request.query_params.get("upright") == "true"
        whole = request.query_params.get("whole") == "true"
        asked = Asked(what[:200], said[:80], upright, _place_of(request), whole)
        return JSONResponse(await run_in_threadpool(self.session.find, asked))

    async def _name(self, request: Request) -> JSONResponse:
        at, drawing = _place_of(request), request.query_params.get("drawing", "")[:200]
        return JSONResponse(await run_in_threadpool(self.session.name_at, drawing, at) if at else "")

    async def _shapes(self, _request: Request) -> JSONResponse:
        return JSONResponse(await run_in_threadpool(self.session.shapes))

    async def _editions(self, _request: Request) -> JSONResponse:
        names = await self._names()
        return JSONResponse({"names": names, "now": self.session.edition})

    async def _names(self) -> list[str]:
        """The plan's editions. One that was on offer may still be chosen while the plan cannot be read."""
        names = await run_in_threadpool(_editions_of, self.folder)
        if names is None:
            return sorted(self._offered)
        self._offered.update(names)
        return names

    async def _asset(self, request: Request) -> Response:
        found = asset(request.path_params["name"])
        return Response(found[0], media_type=found[1]) if found else Response("Not here.", 404, media_type="text/plain")

    async def _shown(self, request: Request) -> Response:
        ids = await _message(request)
        if not isinstance(ids, list) or not all(isinstance(one, str) for one in ids):
            return Response("A list of drawings is wanted.", 400, media_type="text/plain")
        self.session.look_at(ids[:50])
        return Response(status_code=204)

    async def _printed(self, request: Request) -> Response:
        wanted = await _message(request)
        if not isinstance(wanted, bool):
            return Response("Yes or no is wanted.", 400, media_type="text/plain")
        await run_in_threadpool(self.session.want_pages, wanted)
        return Response(status_code=204)

    async def _sheet(self, request: Request) -> Response:
        picture = await run_in_threadpool(self.session.printer.picture, request.path_params["number"])
        return (
            Response(picture, media_type="image/png")
            if picture
            else Response("Not here.", 404, media_type="text/plain")
        )

    async def _edition(self, request: Request) -> Response:
        name = await _message(request)
        known = name is None or (isinstance(name, str) and (name in self._offered or name in await self._names()))
        if not known:
            return Response("The name of an edition is wanted.", 400, media_type="text/plain")
        self.session.change_edition(name)
        return Response(status_code=204)


def _there(folders: Iterable[Path]) -> dict[Path, int]:
    """Those folders that exist, each with the number by which the file system knows it: one made anew has another."""
    found: dict[Path, int] = {}
    for folder in folders:
        with contextlib.suppress(OSError):
            found[folder] = folder.stat().st_ino
    return found


def _place_of(request: Request) -> tuple[float, float] | None:
    """The place in a drawing that a request asks about; None for anything but two plain numbers."""
    try:
        x, y = (float(request.query_params.get(name, "")) for name in ("x", "y"))
    except ValueError:
        return None
    return (x, y) if isfinite(x) and isfinite(y) else None


async def _message(request: Request) -> Any:
    """The JSON that a page sent; an empty object for anything else. Only JSON is taken, which no foreign form can send."""
    if request.headers.get("content-type", "").split(";")[0].strip() != "application/json":
        return {}
    body = b""
    try:
        async for piece in request.stream():
            body += piece
            if len(body) > _LARGEST_MESSAGE:
                return {}
        return json.loads(body)
    except (ValueError, RecursionError, ClientDisconnect):  # a page may be closed in the middle of a word
        return {}


def _event(kind: str, what: Any) -> str:
    return f"event: {kind}\ndata: {json.dumps(what, ensure_ascii=False)}\n\n"


def _editions_of(folder: Path) -> list[str] | None:
    """The names of the plan's editions; None while it cannot be read."""
    from drawleaf.source.reader import PLAN_FILE
    from drawleaf.source.text_files import read_text
    from drawleaf.source.yaml_tree import read_yaml

    text, _ = read_text(folder / PLAN_FILE, PLAN_FILE)
    tree = read_yaml(PLAN_FILE, text)[0] if text else None
    if not isinstance(tree, dict):
        return None
    editions = tree.get("editions")
    return [str(name) for name in editions] if isinstance(editions, dict) else []


class _Server(uvicorn.Server):
    """A server that ends the pages' streams before it stops."""

    def __init__(self, config: uvicorn.Config, preview: Preview) -> None:
        super().__init__(config)
        self._preview = preview

    def handle_exit(self, sig: int, frame: Any) -> None:
        self._preview.hang_up()
        super().handle_exit(sig, frame)


def bind(port: int) -> socket.socket:
    """A socket on the loopback address; port 0 takes any free one. Raises OSError where the port is taken."""
    door = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    door.bind((LOOPBACK, port))
    door.listen()  # from now on a browser waits for us rather than being turned away
    return door


def new_token() -> str:
    """A word for an address that no other program can guess."""
    return secrets.token_urlsafe(16)


def serve(folder: Path, choice: Choice, doors: Iterable[socket.socket], token: str) -> None:
    """Serve until stopped from the keyboard, under an address that begins with the token."""
    doors = list(doors)
    preview = Preview(folder, choice, token)
    application = preview.application(doors[0].getsockname()[1])
    config = uvicorn.Config(
        application,
        log_level="error",
        access_log=False,
        timeout_graceful_shutdown=2,
        server_header=False,
        ws="none",
        proxy_headers=False,
    )
    try:
        _Server(config, preview).run(sockets=doors)
    except KeyboardInterrupt:
        _leave(preview)
        raise
    _leave(preview)


def _leave(preview: Preview) -> None:
    """End the process here where a compile is in the middle of native code: Python taken down around it would crash, and nobody waits
    for its result."""
    if not preview.at_rest(_REST_SECONDS):
        for child in multiprocessing.active_children():
            child.terminate()
        os._exit(0)
