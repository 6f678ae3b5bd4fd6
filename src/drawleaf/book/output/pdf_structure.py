"""What WeasyPrint leaves open in the structure of a tagged PDF (ISO 14289-1:2014), set before the file is written: what heads of tables
are heads of, where links and the spaces between inline items of a list belong, words and print flag of links."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

_PRINTED = 4
"""The third flag of an annotation: it is printed (ISO 32000-1, 12.5.3)."""


def with_structure_mended(_document: Any, pdf: Any) -> None:
    """Mends the objects of a PDF in place, as WeasyPrint's ``finisher``."""
    elements = {one.reference: one for one in _dictionaries(pdf, "Type", "/StructElem")}
    for element in elements.values():
        kind = element["S"]
        if kind == "/TH":
            # A head in the head of its table stands over its column, any other before its row.
            element["A"]["Scope"] = "/Column" if _inside(element, "/THead", elements) else "/Row"
        elif kind == "/L":
            _spaces_into_items(element, elements)
    parents = _parent_tree(pdf)
    _links(pdf, elements, parents)
    _running_lines(pdf, elements, parents)


def _dictionaries(pdf: Any, key: str, value: str) -> list[Any]:
    return [one for one in pdf.objects if isinstance(one, dict) and one.get(key) == value]


def _above(element: Any, elements: Mapping[Any, Any]) -> Iterator[Any]:
    """The elements about this one, the nearest first."""
    while (parent := elements.get(element["P"])) is not None:
        yield parent
        element = parent


def _inside(element: Any, kind: str, elements: Mapping[Any, Any]) -> bool:
    return any(one["S"] == kind for one in _above(element, elements))


def _spaces_into_items(listed: Any, elements: Mapping[Any, Any]) -> None:
    """A list whose items run on in one line has the spaces between them as its own children, where only items may be: each belongs to the
    item before it."""
    items: list[Any] = []
    for kid in listed["K"]:
        element = elements.get(kid)
        if element is None or element["S"] != "/Span":
            items.append(kid)
            continue
        body = _body(elements[items[-1]], elements) if items else None
        if body is None:
            items.append(kid)
            continue
        body["K"].append(kid)
        element["P"] = body.reference
    listed["K"][:] = items


def _body(item: Any, elements: Mapping[Any, Any]) -> Any | None:
    """What stands in an item of a list, without its mark; None for a list within the list."""
    kids = (elements[kid] for kid in item["K"] if kid in elements)
    return next((kid for kid in kids if kid["S"] == "/LBody"), None) if item["S"] == "/LI" else None


def _links(pdf: Any, elements: Mapping[Any, Any], parents: Any) -> None:
    """Every link is printed, has words that a screen reader can say in place of the bare name of its target, and belongs to a link element.

    Words with a style of their own within a link are a link of their own on the page, but no link element.
    """
    import pydyf

    notes = {}
    for one in _dictionaries(pdf, "Subtype", "/Link"):
        notes[one.reference] = one
        one["F"] = _PRINTED
        if "Dest" in one:
            name = str(one["Dest"].string)
            one["Contents"] = pydyf.String("Go to " + name.replace("-", " ").replace("_", " "))
    references = {one.reference: one for one in _dictionaries(pdf, "Type", "/OBJR")}
    for element in elements.values():
        if element["S"] == "/Link":
            continue
        for kid in [kid for kid in element["K"] if kid in references and references[kid]["Obj"] in notes]:
            link = next((one for one in _above(element, elements) if one["S"] == "/Link"), None)
            if link is None:
                continue
            element["K"].remove(kid)
            link["K"].append(kid)
            parents[_place(parents, notes[references[kid]["Obj"]]["StructParent"])] = link.reference


def _running_lines(pdf: Any, elements: Mapping[Any, Any], parents: Any) -> None:
    """What stands in the margin of a page is no content but belongs to the page: its elements hang on no tree."""
    import pydyf

    hung, queue = set[Any](), [ref for ref, one in elements.items() if one["S"] == "/Document"]
    while queue:
        hung.add(one := queue.pop())
        queue += [kid for kid in elements[one]["K"] if kid in elements]
    objects = {one.reference: one for one in pdf.objects}
    for page in _dictionaries(pdf, "Type", "/Page"):
        marked, content = parents[_place(parents, page["StructParents"])], objects[page["Contents"]].stream
        for place, piece in enumerate(content):
            if isinstance(piece, dict) and "MCID" in piece and marked[piece["MCID"]] not in hung:
                marked[piece["MCID"]] = b"null"
                content[place - 1 : place + 1] = ["/Artifact", pydyf.Dictionary({"Type": "/Pagination"})]
    for ref, element in elements.items():
        if ref not in hung:
            # Nothing names it any more, and no object may be left out of the file: pydyf counts on all of them.
            element.clear()


def _parent_tree(pdf: Any) -> Any:
    """Numbers and what belongs to them in turn, as an annotation's ``StructParent`` names them."""
    return next(one["Nums"] for one in pdf.objects if isinstance(one, dict) and "Nums" in one)


def _place(parents: Any, number: int) -> int:
    """Where in the tree what belongs to a number stands."""
    return next(place + 1 for place in range(0, len(parents), 2) if parents[place] == number)
