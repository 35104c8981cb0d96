"""A drafted outline: everything typed for a piece of ground, for every way of measuring that was tried.

{"method": key, "drafts": {method: {field: text}}}. An outline within another (a part of a compound, the
second measurement) is drafted the same way, so nothing typed is lost at any depth. The job file has only
what counts: {"method": key, **values}.

A path names one reading: "width", "offsets.3", "legs.2.distance", "parts.1.outline.radius". Levels are
drafted in the same way, with forms of their own (`form_of`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from logic.errors import BadValue
from logic.field import Field, Form, is_empty
from logic.measure.methods import method_named
from logic.measure.slope import FIELD as SLOPE

FIRST_METHOD = "rectangle"

Doc = Mapping[str, Any]
FormOf = Callable[[Any], Form]


def outline_form(method: Any) -> Form:
    """What a way of measuring asks for, the slope included. Raises BadValue for an unknown one."""
    form = method_named(method).form
    return Form((*form.fields, SLOPE), form.ways)


def method_in(doc: Doc) -> str:
    """The way of measuring that the draft is set to."""
    return str(doc.get("method") or FIRST_METHOD)


def values_in(doc: Doc, method: str = "") -> dict[str, Any]:
    """What has been typed for a way of measuring (the one in use by default), "way" included."""
    return dict((doc.get("drafts") or {}).get(method or method_in(doc)) or {})


def has_values(doc: Doc) -> bool:
    """True when anything has been typed for the way of measuring in use."""
    return any(value for key, value in values_in(doc).items() if key != "way")


def with_method(doc: Doc, method: str, form_of: FormOf = outline_form) -> dict[str, Any]:
    """The draft set to another way; readings that both ways ask for carry over into empty fields."""
    kept = values_in(doc, method)
    wanted = form_of(method).keys()
    carried = {k: v for k, v in values_in(doc).items() if k in wanted and not kept.get(k)}
    return _with_values({**doc, "method": method}, {**kept, **carried})


def with_value(doc: Doc, path: str, value: Any) -> dict[str, Any]:
    """The draft with one reading (or "way") as typed. Missing entries on the way are made, blank."""
    return _with_values(doc, put_at(values_in(doc), path, value))


def put_at(values: Mapping[str, Any], path: str, value: Any) -> dict[str, Any]:
    """Values as typed with one of them changed. Blank entries at the end of a list are dropped."""
    key, *rest = path.split(".")
    return {**values, key: _put(values.get(key), rest, value)}


def value_at(doc: Doc, path: str) -> Any:
    """What stands at a path, "" when nothing does."""
    key, *rest = path.split(".")
    return _look(values_in(doc).get(key), rest)


def field_at(doc: Doc, path: str, form_of: FormOf = outline_form) -> Field | None:
    """The Field of one reading, a number also within a list; None when the way in use has no such reading."""
    found = _named(doc, path, form_of)
    return found[0] if found else None


def name_at(doc: Doc, path: str, form_of: FormOf = outline_form) -> str:
    """What one reading is called: "Width", "Offset 4", "Leg 3, distance"; or ""."""
    found = _named(doc, path, form_of)
    return found[1] if found else ""


def given_of(doc: Doc) -> dict[str, Any]:
    """The job file's form of a draft."""
    return {"method": method_in(doc), **{k: _given(v) for k, v in values_in(doc).items()}}


def draft_of(given: Mapping[str, Any], form_of: FormOf = outline_form) -> dict[str, Any]:
    """The draft of a job file's outline. Raises BadValue for an unknown way of measuring."""
    values = {key: _drafted(value) for key, value in given.items() if key != "method"}
    method = given.get("method", FIRST_METHOD)
    form_of(method)
    return {"method": method, "drafts": {method: values}}


def _named(doc: Doc, path: str, form_of: FormOf) -> tuple[Field, str] | None:
    key, *rest = path.split(".")
    try:
        return _within(form_of(method_in(doc)).field(key), values_in(doc).get(key), rest)
    except (KeyError, BadValue):
        return None


def _with_values(doc: Doc, values: Mapping[str, Any]) -> dict[str, Any]:
    method = method_in(doc)
    return {**doc, "method": method, "drafts": {**(doc.get("drafts") or {}), method: dict(values)}}


def _put(held: Any, path: Sequence[str], value: Any) -> Any:
    if not path:
        return _trimmed(list(value)) if isinstance(value, list | tuple) else value
    head, *rest = path
    if head.isdecimal():
        entries = list(held) if isinstance(held, list | tuple) else []
        index = int(head)
        entries += [""] * (index + 1 - len(entries))
        entries[index] = _put(entries[index], rest, value)
        return _trimmed(entries)
    inner = held if isinstance(held, Mapping) else {}
    if "drafts" in inner:
        return with_value(inner, ".".join(path), value)
    return {**inner, head: _put(inner.get(head), rest, value)}


def _trimmed(entries: list[Any]) -> list[Any]:
    while entries and _is_blank(entries[-1]):
        entries.pop()
    return entries


def _is_blank(entry: Any) -> bool:
    if isinstance(entry, Mapping):
        return all(_is_blank(value) for value in entry.values())
    return is_empty(entry)


def _look(held: Any, path: Sequence[str]) -> Any:
    if not path:
        return "" if held is None else held
    head, *rest = path
    if head.isdecimal():
        entries = held if isinstance(held, list | tuple) else ()
        return _look(entries[int(head)], rest) if int(head) < len(entries) else ""
    if not isinstance(held, Mapping):
        return ""
    return value_at(held, ".".join(path)) if "drafts" in held else _look(held.get(head), rest)


def _within(item: Field, held: Any, path: Sequence[str]) -> tuple[Field, str] | None:
    if not path:
        return item, item.label
    if item.kind == "outline":
        return _named(held if isinstance(held, Mapping) else {}, ".".join(path), outline_form)
    if item.kind not in ("list", "rows") or not path[0].isdecimal():
        return None
    name = item.entry_name(int(path[0]) + 1)
    if item.kind == "list":
        return replace(item, kind="number", label=name, help=""), name
    if len(path) < 2:
        return None
    found = _within(Form(item.row).field(path[1]), _look(held, path[:2]), path[2:])
    return (found[0], f"{name}, {found[0].name()}") if found else None


def _given(value: Any) -> Any:
    if isinstance(value, Mapping):
        return given_of(value) if "drafts" in value else {k: _given(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [_given(item) for item in value]
    return value


def _drafted(value: Any) -> Any:
    """Numbers become text as typed, outlines become drafts; lists and objects stay."""
    if isinstance(value, Mapping):
        return draft_of(value) if "method" in value else {k: _drafted(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [_drafted(item) for item in value]
    if isinstance(value, bool) or not isinstance(value, int | float):
        return value
    return repr(value)
