"""JSON Schemas (draft 2020-12) of the plan source and of components, for editors that complete and check as one types.

They are made from the source models. An author writes ``15.5`` or ``3-1/2`` where the models hold text, so every text may be a number.
"""

from __future__ import annotations

import inspect
import json
import re
from typing import Any, get_args

from drawleaf.source import models
from drawleaf.source.key_words import KEY_WORDS
from drawleaf.source.models import ComponentSource, Expr, Name, PlanSource, SourceNode

DRAFT = "https://json-schema.org/draft/2020-12/schema"
FILES: dict[str, tuple[type[SourceNode], str]] = {
    "plan.schema.json": (PlanSource, "A drawleaf plan"),
    "component.schema.json": (ComponentSource, "A drawleaf component"),
}

_OF_TYPES = {None, *(get_args(kind)[1].description for kind in (Expr, Name))}
_MARKUP = re.compile(r"``([^`]*)``")


def schemas() -> dict[str, str]:
    """Each schema file's name and its text."""
    return {
        name: json.dumps(schema_of(model, title), ensure_ascii=False, indent=1) + "\n"
        for name, (model, title) in FILES.items()
    }


def schema_of(model: type[SourceNode], title: str) -> dict[str, Any]:
    """The schema of one kind of file."""
    raw = model.model_json_schema(by_alias=True, ref_template="#/$defs/{model}")
    schema = _loosened(raw)
    assert isinstance(schema, dict)
    for name, part in schema.get("$defs", {}).items():
        _describe(part, getattr(models, name))
    _describe(schema, model)
    return {"$schema": DRAFT, **schema, "title": title}


def _describe(part: dict[str, Any], model: type[SourceNode]) -> None:
    """Words for the node and for each of its keys."""
    part["description"] = _plain(inspect.getdoc(model) or "")
    for key, value in part.get("properties", {}).items():
        words = words_of(model, key)
        if words:
            value["description"] = _plain(words)


def words_of(model: type[SourceNode], key: str) -> str | None:
    """What a key means; None where nobody has said."""
    return _own_words(model, key) or KEY_WORDS.get((model.__name__, key)) or KEY_WORDS.get(("", key))


def _own_words(model: type[SourceNode], key: str) -> str | None:
    """What the field itself says. What only its type says (any expression) says too little."""
    for name, info in model.model_fields.items():
        if (info.alias or name) == key:
            return None if info.description in _OF_TYPES else info.description
    return None


def _loosened(node: Any) -> Any:
    """The schema without titles, with a number allowed wherever a free text is."""
    if isinstance(node, list):
        return [_loosened(one) for one in node]
    if not isinstance(node, dict):
        return node
    loose = {
        key: (
            {name: _loosened(one) for name, one in value.items()}
            if key in ("properties", "$defs")
            else _loosened(value)
        )
        for key, value in node.items()
        if key != "title" or isinstance(value, dict)
    }
    if loose.get("type") == "string" and not {"enum", "const", "pattern"} & set(loose):
        loose["type"] = ["string", "number"]
    if "patternProperties" in loose:
        loose.setdefault("additionalProperties", False)
    if "propertyNames" in loose:
        loose["propertyNames"] = {key: value for key, value in node["propertyNames"].items() if key != "title"}
    return loose


def _plain(text: str) -> str:
    return " ".join(_MARKUP.sub(r"\1", text).replace("`", "").split())
