"""Sources by someone who means harm, or by an unlucky disk: a clear error, nothing run, nothing read or written outside, nothing lost."""

from __future__ import annotations

import base64
import hashlib
import os
import re
import resource
import subprocess
import time
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path

import pytest
from tests.conftest import TINY, drawn_source
from typer.testing import CliRunner, Result

from drawleaf.book.output.booklet import make_html
from drawleaf.book.words.own_templates import TemplateFaultError
from drawleaf.cli import app
from drawleaf.codes.samples import CRATE
from drawleaf.compiler import Choice, Outcome, check_plan, with_template_faults
from drawleaf.outputs import LIST, write_set
from drawleaf.resources import template_folders
from drawleaf.source.report import render
from quick_compile import quickly
from tiny_pictures import png

ROOT = Path(__file__).resolve().parent.parent
SECRET = "the secret of another folder"
NOTE = "{part: crate.side, text: Mind the grain.}"


def folder_with(tmp_path: Path, source: str | bytes) -> Path:
    folder = tmp_path / "crate"
    folder.mkdir(exist_ok=True)
    (folder / "plan.yaml").write_bytes(source if isinstance(source, bytes) else source.encode())
    return folder


def refused(folder: Path, code: str) -> Outcome:
    """The plan is refused with that code, at a place in its own files, within a few seconds."""
    began = time.monotonic()
    outcome = check_plan(folder, Choice())
    assert time.monotonic() - began < 10
    assert outcome.failed
    assert outcome.derived is None
    found = [one for one in outcome.diagnostics if one.code == code]
    assert found, [(one.code, one.message) for one in outcome.diagnostics]
    assert found[0].position is not None
    return outcome


def here(*arguments: str | Path) -> Result:
    """The command in this process; a start of its own takes two seconds of the processor. What it does not catch is raised."""
    result = CliRunner().invoke(app, [*map(str, arguments)], input="")
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def slipped(old: str, new: str) -> str:
    assert CRATE.count(old) == 1
    return CRATE.replace(old, new)


# What is too much.


def test_an_alias_bomb(tmp_path: Path) -> None:
    rows = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    rows += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 12)]
    refused(folder_with(tmp_path, "\n".join(rows)), "too-many-aliases")


def test_a_file_of_a_hundred_megabytes_is_not_read(tmp_path: Path) -> None:
    folder = folder_with(tmp_path, CRATE)
    with (folder / "plan.yaml").open("r+b") as stream:
        stream.truncate(100_000_000)
    refused(folder, "file-too-large")


def test_a_note_file_of_a_hundred_megabytes_is_not_read(tmp_path: Path) -> None:
    folder = folder_with(tmp_path, slipped(NOTE, "{part: crate.side, file: long.md}"))
    with (folder / "long.md").open("wb") as stream:
        stream.truncate(100_000_000)
    refused(folder, "file-too-large")


@pytest.mark.parametrize(("opened", "closed"), [("[", "]"), ("{a: ", "}"), ("- ", "")])
def test_deep_nesting(tmp_path: Path, opened: str, closed: str) -> None:
    """A thousand deep it is too deep; the YAML parser itself may give up before."""
    text = "plan: " * (opened != "- ") + opened * 1000 + "x" + closed * 1000
    outcome = check_plan(folder_with(tmp_path, text), Choice())
    assert [one.code for one in outcome.diagnostics] in (["too-deep"], ["yaml"])


def test_deep_brackets_in_an_expression(tmp_path: Path) -> None:
    refused(folder_with(tmp_path, slipped("height: 12,", f"height: {'(' * 60}12{')' * 60},")), "too-deep")


def test_a_line_of_brackets_in_a_note_does_not_keep_it_busy(tmp_path: Path) -> None:
    folder = folder_with(tmp_path, slipped(NOTE, "{part: crate.side, file: busy.md}"))
    (folder / "busy.md").write_text("![" * 100_000 + "](" * 100_000)
    began = time.monotonic()
    check_plan(folder, Choice())
    assert time.monotonic() - began < 20


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        (
            "deep: 3, top: height}",
            "deep: 3, top: height, repeat: {along: y, count: 10000, spacing: 4}}",
            "copies-out-of-range",
        ),
        ("spacing: 1, count: 5", "spacing: 1, count: 10000", "copies-out-of-range"),
        ("{screws: {count: 2}}", "{screws: {count: 10000}}", "count-out-of-range"),
        ("slats: 4", "slats: 10000", "strip-too-narrow"),
        ("height: 12,", "height: 1e999,", "exponent"),
        ("height: 12,", "height: .inf,", "odd-character"),
        ("height: 12,", "height: .nan,", "odd-character"),
        ("height: 12,", f"height: {'9' * 39},", "too-large"),
        ("height: 12,", f"height: {'9' * 4000},", "expression-too-long"),
        ("width: 20,", "width: 999999999,", "too-large"),
    ],
)
def test_astronomical_numbers(tmp_path: Path, old: str, new: str, code: str) -> None:
    outcome = check_plan(folder_with(tmp_path, slipped(old, new)), Choice())
    assert outcome.failed
    assert all(one.position is not None for one in outcome.diagnostics if one.is_error)
    if code not in ("odd-character",):
        assert code in {one.code for one in outcome.diagnostics}


def test_thousands_of_parts_are_refused_before_they_are_placed(tmp_path: Path) -> None:
    row = "      p{}: {{stock: thin, thickness: z, grain: x, left: 0, right: 2, front: 0, deep: 2, bottom: 0, repeat: {{along: z, count: 200, spacing: 1}}}}\n"
    many = "".join(row.format(n) for n in range(60))
    refused(folder_with(tmp_path, slipped("    joints:\n", many + "    joints:\n")), "too-many-parts")


# What is outside.


@pytest.mark.parametrize("key", ["file", "picture"])
@pytest.mark.parametrize(
    "name",
    [
        "../secret.md",
        "/etc/hostname",
        "a/../../secret.md",
        "..",
        "link.md",
        "link.png",
        "ring.md",
        "pipe.md",
        "x" * 5000 + ".md",
    ],
)
def test_nothing_outside_the_folder_is_read(tmp_path: Path, key: str, name: str) -> None:
    (tmp_path / "secret.md").write_text(SECRET)
    (tmp_path / "secret.png").write_bytes(png())
    folder = folder_with(
        tmp_path,
        slipped(
            NOTE, f"{{part: crate.side, text: x, {key}: {name}}}".replace("text: x, " if key == "file" else "", "")
        ),
    )
    (folder / "link.md").symlink_to(tmp_path / "secret.md")
    (folder / "link.png").symlink_to(tmp_path / "secret.png")
    (folder / "ring.md").symlink_to(folder / "ring.md")
    os.mkfifo(folder / "pipe.md")
    outcome = check_plan(folder, Choice())
    assert outcome.failed
    assert SECRET not in str(outcome.texts)
    assert {one.code for one in outcome.diagnostics if one.is_error} <= {
        "outside-folder",
        "no-such-file",
        "odd-path",
        "not-a-picture",
    }


def test_a_plan_or_shared_file_that_is_a_link_to_elsewhere_is_not_read(tmp_path: Path) -> None:
    (tmp_path / "secret.md").write_text(f"{SECRET}: [")
    folder = folder_with(tmp_path, CRATE)
    (folder / "shared").mkdir()
    (folder / "shared" / "tools.yaml").symlink_to(tmp_path / "secret.md")
    outcome = check_plan(folder, Choice())
    (link,) = [one for one in outcome.diagnostics if one.is_error]
    assert link.code == "outside-folder"
    assert link.position is not None
    assert link.position.file.endswith("shared/tools.yaml")
    (folder / "plan.yaml").unlink()
    (folder / "plan.yaml").symlink_to(tmp_path / "secret.md")
    other = check_plan(folder, Choice())
    assert "outside-folder" in {
        one.code for one in other.diagnostics if one.position and "plan.yaml" in one.position.file
    }
    assert SECRET not in str((outcome.texts, other.texts, outcome.diagnostics, other.diagnostics))


def test_templates_with_a_link_to_elsewhere_are_not_used(tmp_path: Path) -> None:
    (tmp_path / "secret.md").write_text(SECRET)
    folder = folder_with(tmp_path, CRATE)
    steps = folder / "templates" / "steps"
    steps.mkdir(parents=True)
    (steps / "join.j2").write_text("do: Join them.")
    assert folder / "templates" in template_folders(folder)
    (steps / "fasten.j2").symlink_to(tmp_path / "secret.md")
    assert folder / "templates" not in template_folders(folder)


def test_a_plan_that_is_a_pipe_does_not_hang(tmp_path: Path) -> None:
    folder = tmp_path / "crate"
    folder.mkdir()
    os.mkfifo(folder / "plan.yaml")
    refused(folder, "file-unreadable")


@pytest.mark.parametrize(
    "name", ["https://example.com/a.png", "file:///etc/hostname", "data:text/html,x", "//example.com/a.png"]
)
def test_nothing_is_fetched_from_hosts(tmp_path: Path, name: str) -> None:
    outcome = check_plan(
        folder_with(tmp_path, slipped(NOTE, f"{{part: crate.side, text: x, picture: '{name}'}}")), Choice()
    )
    assert {one.code for one in outcome.diagnostics if one.is_error} <= {"picture-elsewhere", "outside-folder"}
    assert outcome.failed


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("a.svg", b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>"),
        ("a.png", b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>"),
        ("a.jpg", png()),
        ("a.png", png(60_000, 60_000)),
        ("a.png", png()[:20]),
        ("a.png", b""),
    ],
)
def test_pictures_are_what_they_say(tmp_path: Path, name: str, content: bytes) -> None:
    folder = folder_with(tmp_path, slipped(NOTE, f"{{part: crate.side, text: x, picture: {name}}}"))
    (folder / name).write_bytes(content)
    refused(folder, "not-a-picture")


def test_a_picture_of_its_own_is_shown(tmp_path: Path) -> None:
    folder = folder_with(tmp_path, slipped(NOTE, "{part: crate.side, text: x, picture: a.png}"))
    (folder / "a.png").write_bytes(png(3, 2))
    assert not check_plan(folder, Choice()).failed


@pytest.mark.parametrize("name", ["../../evil", "/tmp/evil", "a/b", "..", "con:x"])
def test_names_that_are_paths(tmp_path: Path, name: str) -> None:
    """Editions name output folders, so they cannot be paths."""
    outcome = check_plan(
        folder_with(tmp_path, slipped("  metric: {units: mm}", f"  '{name}': {{units: mm}}")), Choice()
    )
    assert "odd-name" in {one.code for one in outcome.diagnostics}


@pytest.mark.parametrize("edition", [None, "metric"])
def test_an_edition_that_leaves_out_everything(tmp_path: Path, edition: str | None) -> None:
    """Told by a plain check too, at its `without`."""
    folder = folder_with(tmp_path, slipped("metric: {units: mm}", "metric: {units: mm, without: [crate]}"))
    outcome = check_plan(folder, Choice(edition))
    (found,) = [one for one in outcome.diagnostics if one.is_error]
    assert found.code == "nothing-to-build"
    assert found.position is not None
    assert found.position.line == CRATE[: CRATE.index("  metric:")].count("\n") + 1


@pytest.mark.parametrize("others", ["", ", {screws: {spacing: 7, through: back}}", ", {brads: {spacing: 3}}"])
def test_hardware_without_a_length_is_no_screw(tmp_path: Path, others: str) -> None:
    """Also where other fasteners stand near it."""
    wrong = "{butt: back, to: floor, with: [{screws: {count: 2, item: knob}}" + others + "]}"
    refused(
        folder_with(tmp_path, slipped("{butt: back, to: floor, with: [{brads: {spacing: 6}}]}", wrong)), "no-length"
    )


@pytest.mark.parametrize("key", ["file", "picture"])
@pytest.mark.parametrize("name", ['"a\\0b.md"', '"a\\eb.png"', '"\\0"'])
def test_a_name_of_a_file_that_no_disk_takes(tmp_path: Path, key: str, name: str) -> None:
    note = f"{{part: crate.side, {key}: {name}}}"
    outcome = check_plan(folder_with(tmp_path, slipped(NOTE, note)), Choice())
    assert {one.code for one in outcome.diagnostics if one.is_error} <= {"odd-path", "bad-character"}
    assert outcome.failed


# What is not text.


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (CRATE.encode("utf-16"), "wrong-encoding"),
        (CRATE.replace("Mind", "Né").encode("latin-1"), "wrong-encoding"),
        (CRATE.replace("Mind", "M\0nd").encode(), "bad-character"),
        (CRATE.replace("Mind the grain.", '"M\\0nd"').encode(), "bad-character"),
        (CRATE.replace("Mind the grain.", '"\\e[31mred"').encode(), "bad-character"),
        (bytes(range(256)) * 20, "wrong-encoding"),
        (b"\x00" * 5000, "bad-character"),
    ],
)
def test_what_is_no_text(tmp_path: Path, content: bytes, code: str) -> None:
    refused(folder_with(tmp_path, content), code)


def test_nothing_of_the_authors_steers_the_terminal(tmp_path: Path) -> None:
    folder = folder_with(tmp_path, CRATE.replace("title: Crate", 'title: "\\e]0;x\\a"').replace("Mind", "M\x1b[31mnd"))
    result = here("check", folder)
    assert "\x1b" not in result.stdout + result.stderr
    assert "\a" not in result.stdout + result.stderr


# What would run.


class _Seen(HTMLParser):
    """What a browser would make of a page: its tags, and whatever in it would run or fetch something that is not ours."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: Counter[str] = Counter()
        self.dangerous: list[str] = []
        self._in = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags[tag] += 1
        self._in = tag
        for key, value in attrs:
            reaches_out = key in ("href", "src", "srcset") and (value or "").lower().startswith(
                ("javascript:", "data:text")
            )
            if key.startswith("on") or reaches_out or (key == "src" and tag == "script"):
                self.dangerous.append(f"<{tag} {key}={value}>")

    def handle_data(self, data: str) -> None:
        if self._in == "script" and "alert(1)" in data:
            self.dangerous.append(data[:80])

    def handle_endtag(self, tag: str) -> None:
        self._in = ""


_TRICKS = "{{ 7 * 7 }} {% raw %} <script>alert(1)</script> <img src=x onerror=alert(1)> ${7*7} </style> ]]> &lt;b&gt;"


def test_words_stay_words_everywhere(tmp_path: Path) -> None:
    """Scripts, tags and template marks in every text of an author's come out as the text that they are."""
    folder = folder_with(
        tmp_path,
        CRATE.replace("title: Crate", f"title: '{_TRICKS}'")
        .replace("author: A. Maker", f"author: '{_TRICKS}', summary: '{_TRICKS}', terms: '{_TRICKS}'")
        .replace("floor: {stock", f"floor: {{name: '{_TRICKS}', stock")
        .replace(NOTE, f"{{part: crate.side, text: '{_TRICKS} [x](javascript:alert(1))'}}"),
    )
    (folder / "templates" / "js").mkdir(parents=True)
    derived, drawings = drawn_source(folder)
    printed = make_html(derived, drawings, for_print=True, plan_folder=folder)
    html = make_html(derived, drawings, for_print=False, plan_folder=folder)
    seen = _Seen()
    seen.feed(html)
    assert seen.tags["script"] >= 1
    assert seen.tags["img"] == 0
    assert seen.dangerous == []
    assert "&lt;script&gt;alert(1)" in html
    assert "{{ 7 * 7 }}" in html
    assert "49" not in re.sub(r"<[^>]*>", "", html.split("<h1", 1)[1].split("</h1>", 1)[0])
    assert "<script>alert(1)" not in printed
    assert "&lt;script&gt;alert(1)" in printed
    for drawing in drawings.all():
        assert re.fullmatch(r"[a-z0-9][a-z0-9._-]*", drawing.id), drawing.id
        assert "<script" not in drawing.svg


def test_a_template_of_a_strangers_runs_nothing(tmp_path: Path) -> None:
    """A plan's folder may bring templates. They are sandboxed, and a script in them is not allowed by the page's policy."""
    folder = folder_with(tmp_path, TINY)
    derived, drawings = drawn_source(folder)
    chapter = folder / "templates" / "chapters" / "cover.html.j2"
    chapter.parent.mkdir(parents=True)
    for attack in (
        "{{ ''.__class__.__mro__[1].__subclasses__() }}",
        "{{ fmt.__class__.__init__.__globals__['os'].system('true') }}",
        "{{ cycler.__init__.__globals__.os.popen('id').read() }}",
    ):
        chapter.write_text(attack)
        for for_print in (True, False):
            with pytest.raises(TemplateFaultError, match=r"unsafe|undefined"):
                make_html(derived, drawings, for_print=for_print, plan_folder=folder)
    chapter.write_text("<script>alert(1)</script>")
    html = make_html(derived, drawings, for_print=False, plan_folder=folder)
    policy = re.search(r'Content-Security-Policy" content="([^"]+)"', html)
    assert policy
    assert "sha256-" in policy[1]
    assert base64.b64encode(hashlib.sha256(b"alert(1)").digest()).decode() not in policy[1]
    assert "unsafe-inline" not in policy[1].split("script-src")[1].split(";")[0]


@pytest.mark.parametrize(
    ("template", "said"),
    [
        ("Words\n{{ nonsense( }}", "line 2: unexpected"),
        ('{% include "/etc/passwd" %}', "line 1: '/etc/passwd' not found"),
        ("{{ 'x' * 10**10 }}", "line 1: this makes something longer"),
        ("{{ 9 ** 9 ** 9 }}", "line 1: this power is too large"),
        ("{% for i in range(10**9) %}x{% endfor %}", "line 1: Range too big"),
        ("\n\n{{ no_such_thing }}", "line 3: 'no_such_thing' is undefined"),
    ],
)
def test_a_template_at_fault_is_named_with_its_line(tmp_path: Path, template: str, said: str) -> None:
    """It is the author's own, so it is not our failure, and it is told where to mend."""
    folder = folder_with(tmp_path, TINY)
    derived, drawings = drawn_source(folder)
    chapter = folder / "templates" / "chapters" / "cover.html.j2"
    chapter.parent.mkdir(parents=True)
    chapter.write_text(template)
    with pytest.raises(TemplateFaultError) as raised:
        make_html(derived, drawings, for_print=False, plan_folder=folder)
    assert str(raised.value).startswith(f"{chapter}, {said}"), raised.value
    told = raised.value.fault.diagnostic()
    assert told.position is not None
    assert (told.position.file, told.is_error) == (chapter.as_posix(), True)
    assert told.mend


@pytest.mark.parametrize(
    ("template", "line", "said"),
    [
        ("do: Saw.\n\ndo: {{ nonsense }}\n", 3, "'nonsense' is undefined"),
        ("do: Saw.\nThen rest.\n", 2, "it writes “Then rest.”, which begins with none of set:, do:"),
        ("do: Saw.\ndo: {{ 1 / 0 }}\n", 2, "division by zero"),
        ("do: {% if %}\n", 1, "Expected an expression"),
    ],
)
def test_a_fault_in_a_steps_template_names_the_step(tmp_path: Path, template: str, line: int, said: str) -> None:
    """Compiled as a whole, it is a message with file and line like any other, and says at which step it showed."""
    folder = folder_with(tmp_path, TINY)
    wording = folder / "templates" / "steps" / "crosscut.j2"
    wording.parent.mkdir(parents=True)
    wording.write_text(template)
    derived, drawings = drawn_source(folder)
    with pytest.raises(TemplateFaultError) as raised:
        make_html(derived, drawings, for_print=False, plan_folder=folder)
    told = raised.value.fault.diagnostic()
    assert told.position is not None
    assert (told.code, told.position.file, told.position.line) == ("template-fault", wording.as_posix(), line)
    number = next(step.number for step in derived.steps if any(one.kind == "crosscut" for one in step.operations))
    assert told.message.startswith(f"This template of your own does not work, at step {number}: {said}")
    outcome = with_template_faults(Outcome("x", derived, (), {}), (told,))
    assert outcome.failed
    assert template.splitlines()[line - 1] in render(outcome.diagnostics[0], outcome.texts)


# An unlucky disk.


def drawleaf(*arguments: str | Path, limit: int | None = None) -> subprocess.CompletedProcess[str]:
    def limited() -> None:
        if limit is not None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    return subprocess.run(
        quickly(*arguments, first="import signal; signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"),
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        preexec_fn=limited,
    )


def test_a_full_disk_leaves_the_last_good_booklet(tmp_path: Path) -> None:
    """The system refuses to write more than so many bytes to a file, as a full disk does."""
    folder, out = folder_with(tmp_path, TINY), tmp_path / "out"
    write_set(out / "crate", {"plan.json": b"the last good booklet"})
    result = drawleaf("compile", folder, "--out", out, limit=60_000)
    assert result.returncode == 1
    assert "written: File too large. The last good booklet is as it was." in result.stderr
    assert "Traceback" not in result.stderr
    assert sorted(file.name for file in out.rglob("*")) == sorted(["crate", LIST, "plan.json"])


def test_a_booklet_takes_the_place_of_nothing_but_a_booklet(tmp_path: Path) -> None:
    """Not of the plan itself, of a file, of a link or of a folder with other things in it."""
    folder = folder_with(tmp_path, TINY)
    kept = folder / "plan.yaml"
    for out, why in (
        (tmp_path, "it holds a plan"),
        (tmp_path / "a", "a file"),
        (tmp_path / "b", "a link"),
        (tmp_path / "c", "no compile has written"),
        (tmp_path / "d", "no compile has written"),
        (tmp_path / "e", "“plan.json” in it was changed"),
    ):
        out.mkdir(exist_ok=True)
        match out.name:
            case "a":
                (out / "crate").write_text("mine")
            case "b":
                (out / "crate").symlink_to(folder)
            case "c":
                (out / "crate").mkdir()
                (out / "crate" / "photo.jpg").write_text("mine")
            case "d":
                (out / "crate").mkdir()
                (out / "crate" / "plan.json").write_text("{}")
                (out / "crate" / "my-listing-text.docx").write_text("mine")
            case "e":
                write_set(out / "crate", {"plan.json": b"{}"})
                (out / "crate" / "plan.json").write_text("mine")
        before = sorted(str(one) for one in tmp_path.rglob("*"))
        result = here("compile", folder, "--out", out)
        assert result.exit_code == 1
        assert why in result.stderr
        assert sorted(str(one) for one in tmp_path.rglob("*")) == before
        assert kept.read_text() == TINY


@pytest.mark.parametrize("name", [b"caf\xe9", b"tr\x1b[31may", b"tray\n", "tr\u202eay".encode()])
@pytest.mark.parametrize("form", ["text", "json"])
def test_a_folder_whose_name_is_no_text(tmp_path: Path, name: bytes, form: str) -> None:
    folder = Path(os.fsdecode(os.fsencode(tmp_path) + b"/" + name))
    folder.mkdir()
    (folder / "plan.yaml").write_text(TINY)
    result = here("check", folder, "--format", form)
    assert result.exit_code == 2
    assert "has a name with marks that are no text" in " ".join(result.stderr.replace("│", " ").split())
    assert "Traceback" not in result.stderr


def test_a_folder_that_nobody_may_write_to(tmp_path: Path) -> None:
    """Root may write anywhere but where the system itself says no."""
    target = tmp_path / "locked"
    target.mkdir(mode=0o500)
    if os.geteuid() == 0:
        target = Path("/proc")
    result = drawleaf("compile", folder_with(tmp_path, TINY), "--out", target / "out")
    assert result.returncode == 1
    assert "cannot be written" in result.stderr
    assert "Traceback" not in result.stderr
