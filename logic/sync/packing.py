"""A record's state as the book keeps it: beside the document, without the values that stand in it anyway."""

from collections.abc import Mapping
from typing import Any

from logic.records.leaves import Leaves
from logic.sync.registers import Fields, Key, record_hash
from logic.sync.shown import Shown
from logic.sync.text import text_of

DOTS = "dots"


def dots_id(key: Key) -> str:
    """Id of the document of the table "dots" for a record."""
    return f"{key[0]} {key[1]}"


def key_in(doc_id: str) -> Key:
    """The record that a document of the table "dots" is about."""
    table, _, record_id = doc_id.partition(" ")
    return table, record_id


def pack(state: Mapping[str, Any], shown: Shown, leaves: Leaves) -> dict[str, Any]:
    """The document of a state. leaves: all of the record's document as stored ({} when there is none).

    "one" has the paths of one value each, by "device number" of who wrote it, where the document has the
    value; "more" has whole registers; "sum" the hash, "clash" the paths at which a person has to decide.
    """
    one: dict[str, list[str]] = {}
    more: Fields = {}
    for path, register in state["fields"].items():
        if not register["at"] and len(register["is"]) == 1:
            [(device, value)] = register["is"].items()
            if len(value) == 2 and path in leaves and _same(leaves[path], value[1]):
                one.setdefault(f"{device} {value[0]}", []).append(path)
                continue
        more[path] = register
    key = (state["table"], state["id"])
    doc = {"id": dots_id(key), "one": one, "more": more, "sum": f"{record_hash(state):016x}"}
    if state.get("erased"):
        doc["erased"] = state["erased"]
    if shown.clashes:
        doc["clash"] = list(shown.clashes)
    if shown.where == "bin" and shown.deleted:
        doc["root"] = str(shown.deleted.get("root", key[1]))
    return doc


def unpack(key: Key, doc: Mapping[str, Any] | None, leaves: Leaves) -> dict[str, Any]:
    """The state that was packed; one that says nothing when there is none."""
    state: dict[str, Any] = {"table": key[0], "id": key[1], "fields": {}}
    if doc is None:
        return state
    fields: Fields = dict(doc["more"])
    for dot, paths in doc["one"].items():
        device, _, n = dot.rpartition(" ")
        for path in paths:
            if path in leaves:
                fields[path] = {"at": {}, "is": {device: [int(n), leaves[path]]}}
    state["fields"] = fields
    if doc.get("erased"):
        state["erased"] = doc["erased"]
    return state


def _same(a: Any, b: Any) -> bool:
    if type(a) is str and type(b) is str:
        return a == b
    return text_of(a) == text_of(b)  # 1, 1.0 and true are equal in Python, and different here
