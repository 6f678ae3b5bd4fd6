"""YAML as text with positions, and what it refuses."""

from __future__ import annotations

import pytest

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.source.text_files import LARGEST_FILE, decode, lines_of, read_text
from drawleaf.source.yaml_tree import DEEPEST, MOST_ALIASES, MOST_NODES, read_yaml

FILE = "plan.yaml"


def tree_of(text: str):
    tree, _, found = read_yaml(FILE, text)
    assert not found
    return tree


def mistakes(text: str) -> tuple[Diagnostic, ...]:
    return read_yaml(FILE, text)[2]


def codes(text: str) -> list[str]:
    return [one.code for one in mistakes(text)]


@pytest.mark.parametrize(
    "scalar",
    ["3-1/2", "15.5", "23/32", "0.10", "2026-11-20", "1e3", "0x10", "010", "1_000", "12:30", "yes", "no", "on", "y", "16 1/2\"", "3' 6-1/2\"", "-1/2", ".5", ".inf", "½"],
)  # fmt: skip
def test_scalars_stay_the_text_that_was_written(scalar: str) -> None:
    assert tree_of(f"a: {scalar}\n") == {"a": scalar}


def test_only_true_false_and_null_are_more_than_text() -> None:
    text = "a: true\nb: false\nc: null\nd: ~\ne: \"true\"\nf: 'null'\n"
    assert tree_of(text) == {"a": True, "b": False, "c": None, "d": None, "e": "true", "f": "null"}


def test_positions_of_keys_and_values() -> None:
    text = "plan:\n  title: Boot bench\n  size: {wide: 42, deep: 15-1/2}\nlist:\n  - one\n  - {a: 1,\n     b: 2}\n"
    _, positions, found = read_yaml(FILE, text)
    assert not found
    assert positions.of(FILE, ("plan", "title")) == Position(FILE, 2, 10, 10)
    assert positions.of_key(FILE, ("plan", "title")) == Position(FILE, 2, 3, 5)
    assert positions.of(FILE, ("plan", "size", "deep")) == Position(FILE, 3, 26, 6)
    assert positions.of(FILE, ("plan", "size")) == Position(FILE, 3, 3, 4)  # a mapping is told by its key
    assert positions.of(FILE, ("list", 0)) == Position(FILE, 5, 5, 3)
    assert positions.of(FILE, ("list", 1)) == Position(FILE, 6, 5, 6)  # to the end of its first line
    assert positions.of_key(FILE, ("list", 1)) == positions.of(FILE, ("list", 1))
    assert positions.of(FILE, ("list", 1, "b")) == Position(FILE, 7, 9, 1)


def test_what_is_not_written_is_pointed_at_by_its_owner() -> None:
    _, positions, _ = read_yaml(FILE, "shop:\n  kerf: 1/8\n")
    assert positions.of(FILE, ("shop", "end_trim")) == Position(FILE, 1, 1, 4)
    assert positions.of(FILE, ("nothing", "here")) == Position(FILE, 1, 1, 1)
    assert positions.of("other.yaml", ("a",)) == Position("other.yaml", 1, 1, 1)
    assert not positions.has(FILE, ("shop", "end_trim"))
    assert positions.has(FILE, ("shop", "kerf"))


def test_a_fields_name_finds_its_key() -> None:
    _, positions, _ = read_yaml(FILE, "in: side\n")
    assert positions.of(FILE, ("in_",)) == positions.of(FILE, ("in",)) == Position(FILE, 1, 5, 4)


def test_quoted_text_is_pointed_at_within_its_quotes() -> None:
    _, positions, _ = read_yaml(FILE, "a: \"16 1/2\"\nb: '3'\nc: &mark \"5\"\n'd': 1\n")
    assert positions.of(FILE, ("a",)) == Position(FILE, 1, 5, 6)
    assert positions.of(FILE, ("b",)) == Position(FILE, 2, 5, 1)
    assert positions.of(FILE, ("c",)) == Position(FILE, 3, 11, 1)
    assert positions.of_key(FILE, ("d",)) == Position(FILE, 4, 2, 1)


def test_columns_count_characters() -> None:
    _, positions, _ = read_yaml(FILE, "a: {größe: 3, 木: 4}\n")
    assert positions.of(FILE, ("a", "木")) == Position(FILE, 1, 18, 1)


def test_aliases_stand_for_what_they_mark() -> None:
    tree, positions, found = read_yaml(FILE, "a: &rail {wide: 3}\nb: *rail\n")
    assert not found
    assert tree == {"a": {"wide": "3"}, "b": {"wide": "3"}}
    assert positions.of(FILE, ("b", "wide")) == Position(FILE, 1, 17, 1)
    tree["b"]["wide"] = "4"  # type: ignore[index, call-overload]
    assert tree["a"]["wide"] == "3"  # type: ignore[index, call-overload]


def test_duplicate_keys_are_told_with_the_first() -> None:
    tree, _, found = read_yaml(FILE, "a: 1\nb: 2\na: {c: 3, c: 4}\n")
    assert [one.code for one in found] == ["duplicate-key", "duplicate-key"]
    assert found[0].position == Position(FILE, 3, 1, 1)
    assert found[0].related == ((Position(FILE, 1, 1, 1), "first written here"),)
    assert tree == {"a": "1", "b": "2"}


def test_empty_values_are_told_at_their_key() -> None:
    found = mistakes("a:\nb: [1, ]\nc:\n  - 1\n  -\n")
    assert [(one.code, one.position) for one in found] == [
        ("empty-value", Position(FILE, 1, 1, 1)),
        ("empty-value", Position(FILE, 5, 4, 1)),
    ]


def test_tabs_are_told_line_by_line() -> None:
    found = mistakes("a:\n\tb: 1\n  \tc: 2\n# \tno\nd: 1\t\n")
    assert [(one.code, one.position.line, one.position.column) for one in found if one.position] == [
        ("tab", 2, 1),
        ("tab", 3, 3),
    ]


@pytest.mark.parametrize(
    ("text", "code", "line", "column"),
    [
        ("a: [1, 2\nb: 3", "yaml", 1, 8),
        ("a: {b: 1\n", "yaml", 1, 8),
        ('a: "x\nb: 2\n', "yaml", 2, 4),
        ("a: b: c", "yaml", 1, 5),
        ("a: @x", "yaml", 1, 4),
        ("a: `x`", "yaml", 1, 4),
        ('a: "\\q"', "yaml", 1, 5),
        ("a:\n  - b\n c: 1", "yaml", 3, 2),
        ("a\nb: 1", "yaml", 2, 2),
        ("a: 1\n---\nb: 2", "second-document", 2, 1),
        ("? [a]\n: b", "odd-key", 1, 3),
        ("{{a: 1}: 2}", "odd-key", 1, 2),
        ("a: *x", "unknown-alias", 1, 4),
        ("a: &x [*x]", "unknown-alias", 1, 8),
        ("a: !!python/name:os.system x", "tag", 1, 4),
        ("a: !thing {b: 1}", "tag", 1, 4),
        ("<<: 1", "merge-key", 1, 1),
        ("a: \x00", "bad-character", 1, 4),
        ("a: 1\nb: \x1b[31m", "bad-character", 2, 4),
        ("a: \ufeffx", "bad-character", 1, 4),
    ],
)
def test_refusals(text: str, code: str, line: int, column: int) -> None:
    found = mistakes(text)
    assert [one.code for one in found] == [code]
    assert found[0].position is not None
    assert (found[0].position.line, found[0].position.column) == (line, column)
    assert found[0].mend


@pytest.mark.parametrize(
    ("text", "line", "column", "words"),
    [
        ("plan: {number:, date: 1}", 1, 14, "has no value"),
        ("a: {b:1}", 1, 5, "Write “b: 1”."),
        ("a:1\nb: 2", 1, 1, "A space is missing"),
        ("b: 2\na:1\nc: 2", 2, 1, "A space is missing"),
        ("a: '3' 6\"'", 1, 8, ""),
        ("a: 'x'y", 1, 7, "after the closing quote"),
        ("a: {b: 1}}", 1, 10, "no partner"),
        ("a: [1]]", 1, 7, "no partner"),
        ("a: - b", 1, 4, "square brackets"),
        ("a: {b: 1,, c: 2}", 1, 10, "nothing before it"),
        ("a: >-text\n  more", 1, 6, "next line"),
        ("a: {terms: yes, and so}", 1, 17, "text that has commas in quotes"),
        ("a: 50% of: it", 1, 10, "Put the text in quotes"),
    ],
)
def test_common_slips_are_told_as_what_they_are(text: str, line: int, column: int, words: str) -> None:
    found = mistakes(text)
    assert len(found) == 1
    assert found[0].position is not None
    assert (found[0].position.line, found[0].position.column) == (line, column)
    assert words in f"{found[0].message} {found[0].mend}"


def test_limits() -> None:
    assert codes("a: " + "[" * (DEEPEST + 1)) == ["too-deep"]
    assert codes("a: &x 1\nb: [" + "*x, " * MOST_ALIASES + "*x]") == ["too-many-aliases"]
    assert codes("a: [" + "1," * (MOST_NODES + 1) + "1]") == ["file-too-large"]
    tenfold = "a: &a [" + "x," * 1000 + "x]\n"
    for low, high in ("ab", "bc"):
        tenfold += f"{high}: &{high} [{', '.join([f'*{low}'] * 10)}]\n"
    assert "file-too-large" not in codes(tenfold.rsplit("\n", 2)[0])
    assert codes(tenfold) == ["file-too-large"]


def test_no_tag_makes_an_object() -> None:
    tree, _, _ = read_yaml(FILE, "a: !!python/object/apply:os.getcwd []\n")
    assert tree == {"a": []}


def test_encodings() -> None:
    assert decode(FILE, "a: ½\r\nb: 1\rc".encode()) == ("a: ½\nb: 1\nc", ())
    assert decode(FILE, b"\xef\xbb\xbfa: 1")[0] == "a: 1"
    for raw, place in ((b"a: 1\nb: \xbd\n", (2, 4)), ("a: 1".encode("utf-16"), (1, 1))):
        text, found = decode(FILE, raw)
        assert text is None
        assert [one.code for one in found] == ["wrong-encoding"]
        assert found[0].position is not None
        assert (found[0].position.line, found[0].position.column) == place
    assert [one.code for one in decode(FILE, b"a: \x00")[1]] == ["bad-character"]


def test_files_that_cannot_be_read(tmp_path) -> None:
    assert [one.code for one in read_text(tmp_path / "no.yaml")[1]] == ["file-unreadable"]
    assert [one.code for one in read_text(tmp_path)[1]] == ["file-unreadable"]
    large = tmp_path / "large.yaml"
    large.write_bytes(b"#" * (LARGEST_FILE + 1))
    assert [one.code for one in read_text(large)[1]] == ["file-too-large"]


@pytest.mark.parametrize("text", ["---", "--- \u2028 ", "---\u2028", "a:", "- ", "---\n...", "a: 1\n--- \u2028 "])
def test_what_is_left_out_at_the_end_has_its_place_in_the_file(text: str) -> None:
    """The parser's mark of an empty document stands a line after the last."""
    _, positions, found = read_yaml(FILE, text)
    places = [positions.of(FILE, ()), *(one.position for one in found)]
    assert all(place is not None and 1 <= place.line <= len(lines_of(text)) for place in places), places


def test_the_plain_parser_reads_alike(monkeypatch) -> None:
    """Where the C parser is not built in, tree and positions are the same."""
    import yaml

    from drawleaf.source import yaml_tree

    text = "a: {b: 3-1/2, c: [1, 'x y', \"z\"]}\nd:\n  - e: 1\n    f: >-\n      long\n      text\n"
    fast = read_yaml(FILE, text)
    monkeypatch.setattr(yaml_tree, "_PARSER", yaml.SafeLoader)
    slow = read_yaml(FILE, text)
    assert slow == fast
    for broken in ("a: [1, 2\nb: 3", "a: b: c", "a: @x", 'a: "x\nb: 2\n', "a:\n  - b\n c: 1", "a: {b: 1\n"):
        found = mistakes(broken)
        assert [one.code for one in found] == ["yaml"]
        assert found[0].cause, broken
