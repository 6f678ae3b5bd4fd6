"""A stranger's template asks for the reader's files in every way that an address can be written: none is opened, and each is told."""

from __future__ import annotations

import base64
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

import pytest
from tests.conftest import TINY
from weasyprint.urls import url_join

from drawleaf.book.output.addresses import refused_addresses
from drawleaf.book.output.pdf import RefusedAddressesError, make_pdf
from drawleaf.compiler import Choice, compile_plan
from drawleaf.folder_files import file_at, file_inside
from tiny_pictures import png

SECRET = "the-secret-of-another-folder"
_opened: list[str] = []
_watching = False


def _watch(event: str, arguments: tuple) -> None:
    if _watching and event in ("open", "socket.connect", "socket.getaddrinfo", "urllib.Request") and arguments:
        _opened.append(f"{event} {arguments[0] if event != 'socket.connect' else arguments[1]}")


sys.addaudithook(_watch)


@contextmanager
def watched() -> Iterator[list[str]]:
    """What is opened meanwhile, of files and of connections."""
    global _watching
    _opened.clear()
    _watching = True
    try:
        yield _opened
    finally:
        _watching = False


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """A stranger's folder with all that helps to climb out of it, and the secrets beside it."""
    folder = tmp_path / "plan"
    for inside in ("x#", "x?", "x;y", "deep/er", "templates"):
        (folder / inside).mkdir(parents=True)
    for name, content in (
        ("secret.txt", SECRET.encode()),
        ("secret.css", f"p {{ content: '{SECRET}' }}".encode()),
        ("secret.svg", f"<svg xmlns='http://www.w3.org/2000/svg'><text>{SECRET}</text></svg>".encode()),
        ("secret.png", png(2, 2)),
        ("secret.ttf", SECRET.encode()),
    ):
        (tmp_path / name).write_bytes(content)
        (folder / f"link-{name}").symlink_to(tmp_path / name)
    (folder / "up").symlink_to(tmp_path)
    (folder / "ring.png").symlink_to(folder / "ring.png")
    os.mkfifo(folder / "pipe.png")
    (folder / "logo.png").write_bytes(png(2, 2))
    (folder / "plan.yaml").write_text(SECRET)
    (folder / ".env.txt").write_text(SECRET)
    return folder


ADDRESSES = (
    "../secret.png", "../secret.txt", "./../secret.png", "deep/../../secret.png", "deep/er/../../../secret.png", "..//secret.png",
    "/etc/hostname", "//etc/hostname", "///etc/hostname", "////etc/hostname", "/etc/passwd", "/proc/self/environ", "/proc/self/fd/0",
    "/dev/stdin", "/dev/zero",
    "%2e%2e/secret.png", "%2e%2e%2fsecret.png", "..%2fsecret.png", "..%2Fsecret.png", "%252e%252e/secret.png", "..%252fsecret.png",
    "%25252e%25252e/secret.png", "%c0%ae%c0%ae/secret.png", "%e0%80%ae%e0%80%ae/secret.png", "..%00/secret.png", "..%5csecret.png",
    "..\\secret.png", "\\\\host\\share\\x.png", "%uff0e%uff0e/secret.png", "\uff0e\uff0e/secret.png",
    "x#/../../secret.txt#f", "x#/../../../../../../../../../../etc/hostname#f", "x#/../../secret.png", "x%23/../../secret.png",
    "x%23/%2e%2e/%2e%2e/secret.png#f", "logo.png#/../../secret.png", "logo.png#x", "logo.png?/../../secret.png",
    "x?/../../secret.png", "x%3f/../../secret.png?", "x?y#z/../../secret.png", "x;y/../../secret.png", "logo.png;/../../secret.png",
    "logo.png/../../secret.png", "logo.png%00.txt", "logo.png/",
    "link-secret.png", "link-secret.txt", "up/secret.png", "up/plan/../secret.png", "ring.png", "pipe.png", "plan.yaml", ".env.txt",
    "deep", ".", "no-such.png", "x" * 5000 + ".png",
    "http://127.0.0.1:9/x.png", "https://127.0.0.1:9/x.png", "ftp://127.0.0.1:9/x.png", "HTTP://127.0.0.1:9/x.png", "//127.0.0.1:9/x.png",
    "gopher://127.0.0.1/x", "jar:file:///etc/hostname", "view-source:file:///etc/hostname", "filesystem:file:///etc/hostname",
    "blob:file:///etc/hostname", "about:blank", "javascript:alert(1)", "mailto:x@y.example",
    "FILE:///etc/hostname", "File:///etc/hostname", "file:/etc/hostname", "file:etc/hostname", "file://localhost/etc/hostname",
    "file://127.0.0.1/etc/hostname", "file:////etc/hostname", "file:///etc/hostname#f", "file:///etc/hostname?x", "file:///%65tc/hostname",
    "file:///./etc/../etc/hostname", "file:\\\\etc\\hostname", "local-file:///etc/hostname", "local_file:///etc/hostname",
    "DATA:image/png;base64,aaaa", "url:file:///etc/hostname", "netdoc:///etc/hostname", "php://filter/resource=/etc/hostname",
)  # fmt: skip

_SVG = (
    "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' width='9' height='9'>{}</svg>"
)

_ENTITY = '<!DOCTYPE s [<!ENTITY e SYSTEM "file:///etc/hostname">]>'


def _data(kind: str, text: str) -> str:
    return f"data:{kind};base64,{base64.b64encode(text.encode()).decode()}"


def _drawing(content: str) -> str:
    return f'<img alt="x" src="{_data("image/svg+xml", _SVG.format(content))}">'


CARRIERS = {
    "picture": lambda url: f'<img src="{url}" alt="x">',
    "attached link": lambda url: f'<link rel="attachment" href="{url}">',
    "attached link, odd case": lambda url: f'<link rel="x ATTACHMENT" href="{url}">',
    "attached anchor": lambda url: f'<a rel="attachment" href="{url}">x</a>',
    "style sheet": lambda url: f'<link rel="stylesheet" href="{url}">',
    "import": lambda url: f'<style>@import "{url}";</style>',
    "import by url": lambda url: f'<style>@import url("{url}") print;</style>',
    "background": lambda url: f"<p style=\"background-image: url('{url}')\">x</p>",
    "list mark": lambda url: f"<ul><li style=\"list-style-image: url('{url}')\">x</li></ul>",
    "generated content": lambda url: f"<style>p::before {{ content: url('{url}') }}</style><p>x</p>",
    "border": lambda url: f"<p style=\"border: 2px solid; border-image: url('{url}') 1\">x</p>",
    "page background": lambda url: f"<style>@page {{ background-image: url('{url}') }}</style>",
    "font": lambda url: f"<style>@font-face {{ font-family: X; src: url('{url}') }} p {{ font-family: X }}</style><p>x</p>",
    "object": lambda url: f'<object data="{url}">x</object>',
    "embedded": lambda url: f'<embed src="{url}">',
    "picture in a drawing": lambda url: _SVG.format(f"<image href='{url}' width='9' height='9'/>"),
    "picture in a drawing, old link": lambda url: _SVG.format(f"<image xlink:href='{url}' width='9' height='9'/>"),
    "drawing as data": lambda url: _drawing(f"<image href='{url}' width='9' height='9'/>"),
    "style sheet as data": lambda url: f'<link rel="stylesheet" href="{_data("text/css", f"@import url({url});")}">',
}  # fmt: skip

TARGETS = ("../secret.svg", "x#/../../secret.css#f", "{up}/secret.png", "{up}/secret.ttf")
LAST_WINS = ("generated content", "page background")
"""Of several that ask in such a way on one page, only the last is asked for."""
BATCHES = [("picture", ADDRESSES), ("attached link", ADDRESSES), *((name, TARGETS) for name in CARRIERS)]
"""Ways to ask, each with all the addresses that one page asks for in that way."""


def printed(body: str, plan: Path) -> bytes:
    return make_pdf(f"<html lang=en><title>t</title><body>{body}<p>words</p></body></html>", plan_folder=plan)


def test_there_are_a_hundred_forms_and_more() -> None:
    assert len({(name, address) for name, addresses in BATCHES for address in addresses}) > 200
    assert len(set(ADDRESSES)) == len(ADDRESSES)


@pytest.mark.parametrize(("carrier", "addresses"), BATCHES, ids=[name for name, _ in BATCHES])
def test_no_file_is_opened_and_each_refusal_is_told(
    plan: Path, carrier: str, addresses: tuple[str, ...], request: pytest.FixtureRequest
) -> None:
    """All addresses on one page; with ``--long`` each on a page of its own."""
    asked = [address.replace("{up}", plan.parent.as_uri()) for address in addresses]
    if carrier in LAST_WINS or request.config.getoption("--long"):
        refused = set().union(*(refusals([CARRIERS[carrier](address)], plan) for address in asked))
    else:
        refused = refusals([CARRIERS[carrier](address) for address in asked], plan)
    base = f"{plan.as_uri()}/"
    for address in asked:
        # As a page resolves them several are one, such as `./../x` and `../x`; what comes as data has no page to be resolved by.
        resolved = url_join(base, address, False, "").removeprefix(base)
        assert {address, shortened(address), shortened(resolved)} & refused, address


def shortened(address: str) -> str:
    return address if len(address) <= 200 else address[:200] + "…"


def refusals(bodies: list[str], plan: Path) -> set[str]:
    """The addresses that were refused on a page of these; nothing that they name was opened, and each refusal has its words."""
    with watched() as opened, pytest.raises(RefusedAddressesError) as raised:
        printed("".join(bodies), plan)
    assert all(raised.value.refused.values())
    said = [
        one for one in opened if "secret" in one or "/etc/host" in one or "/etc/passwd" in one or "/proc/self/e" in one
    ]
    assert said == []
    assert [one for one in opened if one.startswith(("socket", "urllib")) and " data:" not in one] == []
    assert [one for one in opened if str(plan) in one and "logo.png" not in one] == []
    told = refused_addresses(raised.value.refused, plan)
    assert {one.code for one in told} == {"address-refused"}
    assert all(one.is_error and one.cause and one.mend and len(one.message) < 400 for one in told)
    return set(raised.value.refused)


@pytest.mark.parametrize(
    "body",
    [
        '<iframe src="../secret.txt"></iframe>',
        '<script src="../secret.txt"></script>',
        '<video src="../secret.txt"></video>',
        '<a href="../secret.txt">x</a>',
        '<base href="file:///etc/"><p>x</p>',
        '<meta http-equiv="refresh" content="0; url=../secret.txt">',
        _SVG.format("<use href='../secret.svg'/>"),
        _SVG.format("<use href='../secret.svg#x'/>"),
        _drawing("<use href='file:///etc/hostname#x'/>"),
        _SVG.format("<style>@import url(../secret.css);</style><rect width='9' height='9'/>"),
        _drawing("<style>@import url(../secret.css);</style><rect width='9' height='9'/>"),
        '<img alt="x" src="' + _data("image/svg+xml", _ENTITY + _SVG.format("<text y='9'>&e;</text>")) + '">',
    ],
)  # fmt: skip
def test_what_a_printer_never_follows_is_not_opened(plan: Path, body: str) -> None:
    with watched() as opened:
        pdf = printed(body, plan)
    assert pdf.startswith(b"%PDF")
    assert [one for one in opened if "secret" in one or "/etc/hostname" in one] == []


def test_what_lies_in_the_folder_is_shown(plan: Path) -> None:
    """Also where its name has a mark that ends an address, written with per cent signs."""
    for name in (
        "logo.png",
        "a#b.png",
        "a?b.png",
        "it's.png",
        "a&b.png",
        "my photo.png",
        "Küche.png",
        "100%.png",
        "a%41.png",
    ):
        (plan / name).write_bytes(png(2, 2))
        assert b"/Image" in printed(f'<img alt="x" src="{quote(name)}">', plan)
    (plan / "own.css").write_text("p { background-image: url('deep/dot.png') }")
    (plan / "deep" / "dot.png").write_bytes(png(2, 2))
    assert b"/Image" in printed('<link rel="stylesheet" href="own.css">', plan)


def test_what_was_resolved_is_what_is_opened(plan: Path) -> None:
    """A link in the folder to a file in the folder gives the file, not the link."""
    (plan / "again.png").symlink_to(plan / "logo.png")
    assert file_at((plan / "again.png").as_uri(), plan, (".png",)) == (plan / "logo.png").resolve()
    assert file_inside(plan, "again.png") == (plan / "logo.png").resolve()
    assert file_inside(plan, "up/secret.png") is None
    assert file_inside(plan, "a\0b") is None


def test_a_compile_with_such_a_template_fails_and_tells_its_line(plan: Path) -> None:
    (plan / "plan.yaml").write_text(TINY)
    chapter = plan / "templates" / "chapters" / "cover.html.j2"
    chapter.parent.mkdir()
    chapter.write_text('<h1>{{ about.title }}</h1>\n<link rel="attachment" href="x#/../../secret.txt#f">\n')
    outcome = compile_plan(plan, Choice())
    (refusal,) = [one for one in outcome.diagnostics if one.is_error]
    assert refusal.code == "address-refused"
    assert refusal.position is not None
    assert (refusal.position.file, refusal.position.line) == (chapter.as_posix(), 2)
    assert outcome.files == {}
