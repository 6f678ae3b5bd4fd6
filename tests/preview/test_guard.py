"""The preview answers only its own page on this computer."""

from __future__ import annotations

import asyncio
import http.client
import json
import socket
from pathlib import Path

import pytest

from drawleaf.compiler import Choice
from drawleaf.preview.server import Preview
from preview_served import Served, until


def ask(served: Served, method: str = "GET", path: str = "/", body: str | None = None, **headers: str):
    """The status and the headers of an answer under the preview's own address; header names with _ for -."""
    return ask_at(served, method, served.base + path, body, **headers)


def ask_at(served: Served, method: str, path: str, body: str | None = None, **headers: str):
    """The same for any path."""
    connection = http.client.HTTPConnection("127.0.0.1", served.port, timeout=300)
    connection.putrequest(method, path, skip_host=True)
    named = {"host": f"127.0.0.1:{served.port}", **{name.replace("_", "-"): value for name, value in headers.items()}}
    if body is not None:
        named["content-length"] = str(len(body.encode()))
    for name, value in named.items():
        connection.putheader(name, value)
    connection.endheaders(body.encode() if body is not None else None)
    answer = connection.getresponse()
    return answer.status, {k.lower(): v for k, v in answer.getheaders()}, answer.read()


def test_its_own_page_is_served_with_a_strict_policy(served: Served) -> None:
    status, headers, _ = ask(served)
    assert status == 200
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy
    assert headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1", "127.0.0.1:1", "localhost.evil.example:80", "0.0.0.0", ""]
)
def test_other_hosts_are_refused(served: Served, host: str) -> None:
    assert ask(served, host=host)[0] in (400, 403)


@pytest.mark.parametrize("origin", ["http://evil.example", "https://127.0.0.1", "null", "http://localhost:1"])
@pytest.mark.parametrize("path", ["/", "/news", "/booklet", "/shapes"])
def test_other_origins_are_refused(served: Served, origin: str, path: str) -> None:
    assert ask(served, path=path, origin=origin)[0] == 403


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_requests_from_other_sites_are_refused(served: Served, site: str) -> None:
    assert ask(served, path="/booklet", sec_fetch_site=site)[0] == 403


def test_a_foreign_form_changes_nothing(served: Served) -> None:
    body = json.dumps("long")
    assert ask(served, "POST", "/edition", body, content_type="text/plain")[0] == 400
    assert (
        ask(served, "POST", "/edition", body, content_type="application/json", origin="http://evil.example")[0] == 403
    )


@pytest.mark.parametrize(
    "path", ["/assets/../plan.yaml", "/assets/%2e%2e%2fplan.yaml", "/assets/page.html", "/plan.yaml", "/assets/LICENSE"]
)
def test_no_other_file_is_served(served: Served, path: str) -> None:
    assert ask(served, path=path)[0] == 404


def test_only_loopback_is_listened_on(served: Served) -> None:
    port = served.port
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))
            outside = probe.getsockname()[0]
        except OSError:
            pytest.skip("this machine has no other address to try")
    if outside.startswith("127."):
        pytest.skip("this machine has no other address to try")
    with (
        pytest.raises(OSError, match=r"refused|timed out|unreachable"),
        socket.create_connection((outside, port), timeout=2),
    ):
        pass


@pytest.mark.parametrize(
    "path",
    ["/", "/news", "/booklet", "/shapes", "/editions", "/source?what=step:1", "/assets/preview.js", "/favicon.ico"],
)
@pytest.mark.parametrize("before", ["", "/", "/A" * 2, "/AAAAAAAAAAAAAAAAAAAAAA", "/%00", "/%C3%A9"])
def test_who_does_not_know_the_token_is_refused(served: Served, before: str, path: str) -> None:
    """Another program of this computer sends no Origin and names the right Host."""
    assert ask_at(served, "GET", before + path)[0] in (400, 403)


def test_odd_targets_are_refused(served: Served) -> None:
    assert ask_at(served, "OPTIONS", "*")[0] in (400, 403)
    assert ask_at(served, "GET", served.base[:-1] + "/")[0] == 403
    assert ask_at(served, "GET", served.base + "x/")[0] == 403
    assert ask_at(served, "POST", "/edition", "null", content_type="application/json")[0] == 403


@pytest.mark.parametrize("name", ['"\\ud800"', '"no-such"', '"../x"', '""', "[]", "1"])
def test_only_an_edition_of_the_plan_is_taken(served: Served, name: str) -> None:
    assert ask(served, "POST", "/edition", name, content_type="application/json")[0] == 400
    status, _, body = ask(served, path="/editions")
    assert status == 200
    assert json.loads(body)["now"] is None


@pytest.mark.parametrize("body", ["", "{", '{"a": 1}', "3", "x" * 30_000, "[" * 19_000, '{"a":' * 3000])
def test_odd_messages_are_refused(served: Served, body: str) -> None:
    assert ask(served, "POST", "/shown", body, content_type="application/json")[0] == 400


def test_who_hangs_up_in_the_middle_of_a_message_leaves_no_traceback(tmp_path: Path) -> None:
    preview = Preview(tmp_path, Choice(), "word")
    scope = {
        "type": "http",
        "method": "POST",
        "path": "/word/shown",
        "headers": [(b"host", b"127.0.0.1:1"), (b"content-type", b"application/json")],
    }
    scope |= {"query_string": b"", "root_path": "", "http_version": "1.1", "scheme": "http"}
    told = iter(({"type": "http.request", "body": b"[", "more_body": True}, {"type": "http.disconnect"}))
    sent: list[dict] = []

    async def receive() -> dict:
        return next(told)

    async def send(message: dict) -> None:
        sent.append(message)

    asyncio.run(preview.application(1)(scope, receive, send))  # type: ignore[arg-type]
    assert sent[0]["status"] == 400


def test_the_booklet_comes_with_its_policy(served: Served) -> None:
    def answer():
        status, headers, body = ask(served, path="/booklet")
        return (headers, body) if status == 200 else None

    headers, body = until(answer, "the booklet")  # type: ignore[misc]
    assert "frame-ancestors 'self'" in headers["content-security-policy"]
    assert b"default-src 'none'; script-src 'sha256-" in body
