"""Keeps others out: the preview answers only requests that name this computer, come from the preview's own page and know its token."""

from __future__ import annotations

import secrets

from starlette.types import ASGIApp, Receive, Scope, Send

_NO = b"The preview answers only its own page on this computer.\n"


class Guard:
    """Refuses requests with a foreign Host (a page elsewhere that had its name point here), a foreign Origin, or a path that does not begin
    with the token (another program or user of this computer), and sets the headers that hold for every answer."""

    def __init__(self, app: ASGIApp, port: int, policy: str, token: str) -> None:
        self.app = app
        self.token = token.encode()
        self.hosts = {f"{name}:{port}" for name in ("127.0.0.1", "localhost", "[::1]")}
        self.origins = {f"http://{host}" for host in self.hosts}
        self.headers = [
            (b"content-security-policy", policy.encode()),
            (b"x-content-type-options", b"nosniff"),
            (b"referrer-policy", b"no-referrer"),
            (b"cross-origin-resource-policy", b"same-origin"),
            (b"cross-origin-opener-policy", b"same-origin"),
            (b"cache-control", b"no-store"),
        ]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http" or not self._welcome(scope):
            await _refuse(send, scope["type"])
            return

        async def headed(message) -> None:
            if message["type"] == "http.response.start":
                own = {name for name, _ in message["headers"]}
                message["headers"] = [*message["headers"], *(one for one in self.headers if one[0] not in own)]
            await send(message)

        await self.app(scope, receive, headed)

    def _welcome(self, scope: Scope) -> bool:
        named: dict[bytes, list[str]] = {}
        for name, value in scope["headers"]:
            named.setdefault(name.lower(), []).append(value.decode("latin-1"))
        hosts = named.get(b"host", [])
        if not secrets.compare_digest(scope["path"].removeprefix("/").partition("/")[0].encode(), self.token):
            return False
        if len(hosts) != 1 or hosts[0].lower() not in self.hosts:
            return False
        if any(origin.lower() not in self.origins for origin in named.get(b"origin", [])):
            return False
        return all(site in ("same-origin", "none") for site in named.get(b"sec-fetch-site", []))


async def _refuse(send: Send, kind: str) -> None:
    if kind == "websocket":
        await send({"type": "websocket.close", "code": 1008})
        return
    await send({"type": "http.response.start", "status": 403, "headers": [(b"content-type", b"text/plain")]})
    await send({"type": "http.response.body", "body": _NO})
