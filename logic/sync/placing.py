"""From a state to the book: the document where its state says it is, in its table or in the bin."""

from collections.abc import Callable, Mapping
from contextlib import suppress
from datetime import datetime
from typing import Any

from logic.records.leaves import all_leaves, doc_of, own_fields
from logic.records.types import Json
from logic.sync.packing import DOTS, dots_id, pack
from logic.sync.registers import Key
from logic.sync.shown import Shown, show

BIN = "bin"
Docs = dict[Key, Json | None]


class Placing:
    """The documents of one entry to be, over the tables as they are."""

    def __init__(self, table: Callable[[str], Mapping[str, Json]], me: str) -> None:
        """table: the documents of a table; me: this device."""
        self._table = table
        self._me = me
        self.docs: Docs = {}

    def place(self, state: Mapping[str, Any], at: str) -> Shown:
        """Put a record where its state says. at: when it was last saved, as text; "" leaves that."""
        key = (state["table"], state["id"])
        shown = show(state, self._me)
        old = document(self._table, key)
        doc = None
        if shown.where != "gone":
            own = own_fields(key[0], old)
            doc = {**doc_of(shown.leaves), **own, "id": key[1], "changed": _later(old, at)}
        self._out_of_bin(key)
        if shown.where == "live":
            self._set(key, doc)
        else:
            self._set(key, None)
            if doc is not None and shown.deleted is not None:
                self._into_bin(key, doc, shown.deleted)
        self.docs[DOTS, dots_id(key)] = pack(state, shown, all_leaves(key[0], doc) if doc else {})
        return shown

    def _get(self, key: Key) -> Json | None:
        return self.docs[key] if key in self.docs else self._table(key[0]).get(key[1])

    def _set(self, key: Key, doc: Json | None) -> None:
        if self._get(key) != doc:
            self.docs[key] = doc

    def _out_of_bin(self, key: Key) -> None:
        dots = self._table(DOTS).get(dots_id(key))
        root = dots.get("root") if dots else None
        binned = self._get((BIN, root)) if root else None
        if root and binned:
            left = [item for item in binned["records"] if (item["table"], item["doc"]["id"]) != key]
            self._set((BIN, root), {**binned, "records": left} if left else None)

    def _into_bin(self, key: Key, doc: Json, deleted: Json) -> None:
        root = str(deleted.get("root") or key[1])
        binned = self._get((BIN, root))
        if binned is None:
            moment = _moment(deleted.get("deleted"))
            binned = {
                "id": root,
                "noun": str(deleted.get("noun", "record")),
                "label": str(deleted.get("label", "")),
                "deleted": moment,
                "changed": moment,
                "records": [],
            }
        records = [*binned["records"], {"table": key[0], "doc": doc}]
        # What everything else hung on comes first, then the rest by id, so that all phones agree.
        records.sort(key=lambda item: (item["doc"]["id"] != root, item["table"], item["doc"]["id"]))
        self._set((BIN, root), {**binned, "records": records})


def document(table: Callable[[str], Mapping[str, Json]], key: Key) -> Json | None:
    """The document of a record, in its table or in the bin where its state says it is."""
    doc = table(key[0]).get(key[1])
    dots = table(DOTS).get(dots_id(key))
    if doc is not None or dots is None or not dots.get("root"):
        return doc
    binned = table(BIN).get(str(dots["root"])) or {"records": []}
    for item in binned["records"]:
        if (item["table"], item["doc"]["id"]) == key:
            found: Json = item["doc"]
            return found
    return None


def _later(old: Json | None, at: str) -> str:
    """The later of when it was saved here and there; only shown, never decided by."""
    return max(_moment(at), str((old or {}).get("changed", "")))


def _moment(text: Any) -> str:
    with suppress(TypeError, ValueError):
        if datetime.fromisoformat(text).tzinfo:
            return str(text)
    return "1970-01-01T00:00:00+00:00"
