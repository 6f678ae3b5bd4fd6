"""Straight lines of a PDF page in millimetres of paper, read from its content stream: what a printer will draw."""

from __future__ import annotations

from pypdf import PageObject
from pypdf.generic import ContentStream, DictionaryObject

MM = 25.4 / 72

Matrix = tuple[float, float, float, float, float, float]
Line = tuple[float, float, float, float]


def level_lines(page: PageObject) -> list[Line]:
    """Every level straight line: x from, x to, y, stroke width."""
    return [line for line in _lines(page) if line[0] != line[1]]


def _lines(page: PageObject) -> list[Line]:
    found: list[Line] = []
    contents = page.get_contents()
    if contents is not None:
        _walk(contents, page.get("/Resources", DictionaryObject()).get_object(), (1, 0, 0, 1, 0, 0), page.pdf, found)
    return found


def _times(a: Matrix, b: Matrix) -> Matrix:
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


def _walk(contents, resources, start: Matrix, pdf, found: list[Line]) -> None:
    matrix, width, kept = start, 1.0, []
    here = (0.0, 0.0)
    path: list[tuple[tuple[float, float], tuple[float, float]]] = []
    for operands, operator in ContentStream(contents, pdf).operations:
        match operator:
            case b"q":
                kept.append((matrix, width))
            case b"Q":
                matrix, width = kept.pop()
            case b"cm":
                matrix = _times(tuple(float(v) for v in operands), matrix)  # type: ignore[arg-type]
            case b"w":
                width = float(operands[0])
            case b"m":
                here = (float(operands[0]), float(operands[1]))
            case b"l":
                there = (float(operands[0]), float(operands[1]))
                path.append((here, there))
                here = there
            case b"S" | b"s" | b"B":
                found += [_placed(matrix, a, b, width) for a, b in path if _level(matrix, a, b)]
                path = []
            case b"f" | b"f*" | b"n":
                path = []
            case b"Do":
                form = resources["/XObject"][operands[0]].get_object()
                if form["/Subtype"] == "/Form":
                    inner = tuple(float(v) for v in form.get("/Matrix", (1, 0, 0, 1, 0, 0)))
                    own = form.get("/Resources", resources)
                    _walk(form, own.get_object(), _times(inner, matrix), pdf, found)  # type: ignore[arg-type]


def _point(matrix: Matrix, p: tuple[float, float]) -> tuple[float, float]:
    return (matrix[0] * p[0] + matrix[2] * p[1] + matrix[4], matrix[1] * p[0] + matrix[3] * p[1] + matrix[5])


def _level(matrix: Matrix, a, b) -> bool:
    return abs(_point(matrix, a)[1] - _point(matrix, b)[1]) < 1e-3


def _placed(matrix: Matrix, a, b, width: float) -> Line:
    (x0, y), (x1, _) = _point(matrix, a), _point(matrix, b)
    scale = abs(matrix[0] * matrix[3] - matrix[1] * matrix[2]) ** 0.5
    return (min(x0, x1) * MM, max(x0, x1) * MM, y * MM, width * scale * MM)
