"""Finding records of every kind as the user types, and who hangs on whom. Kept up to date at every save.

A record's row (its folded text and what it is sorted by; a sward's latest visit) is made when it is first
needed and dropped when anything that it is made of changes; so a save costs nothing here, and a search is a
substring test per record. What is typed on to a search is looked for among what the search had found.
"""

import unicodedata
from collections.abc import Mapping
from typing import Any, NamedTuple

from logic.records.types import Json

Docs = Mapping[str, Mapping[str, Any]]

#: table -> (the table it hangs on, the field that says on which record)
PARENTS: Mapping[str, tuple[str, str]] = {
    "swards": ("clients", "client_id"),
    "visits": ("swards", "sward_id"),
    "sites": ("clients", "client_id"),
    "photos": ("visits", "visit_id"),
    "messages": ("visits", "visit_id"),
}

_CLIENT_FIELDS = ("name", "address", "note")
_SWARD_FIELDS = ("name", "kind", "address", "note", "grass", "profile")
_VISIT_FIELDS = ("title", "notes")

#: table -> the fields that are searched; "contacts" and the like are searched with all that is in them.
_FIELDS: Mapping[str, tuple[str, ...]] = {
    "clients": (*_CLIENT_FIELDS, "email", "phone", "contacts"),
    "sites": ("name", "address", "access", "water_point", "hazards", "buried", "note"),
    "swards": _SWARD_FIELDS,
    "visits": (*_VISIT_FIELDS, "started"),
    "suppliers": ("name", "phone", "note"),
    "products": ("name", "material", "pack"),
    "machines": ("name", "works", "source", "note"),
}

# Letters that stand for themselves in Unicode but that people type without the stroke or the ligature.
_PLAIN = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"})


def fold(text: str) -> str:
    """Text for comparing: without case and accents. "Åse's GRÜN" and "ase's grun" fold to the same."""
    if text.isascii():
        return text.lower()
    parts = unicodedata.normalize("NFKD", text.casefold())
    return "".join(part for part in parts if not unicodedata.combining(part)).casefold().translate(_PLAIN)


class Slip(NamedTuple):
    """What searching and sorting need of one record of any kind."""

    text: str
    order: tuple[str, str]


class Row(NamedTuple):
    """What searching and sorting need of one sward."""

    text: str
    name: str
    #: (start, id) of the latest visit; empty texts when there is none
    latest: tuple[str, str]


class Finder:
    """The index over clients, swards and visits. `docs`: a view on the documents of each table by id."""

    def __init__(self, docs: Mapping[str, Docs]) -> None:
        self._docs = docs
        self._rows: dict[str, Row] = {}
        self._clients: dict[str, tuple[str, str]] = {}
        self._order: list[str] = []
        self._sorted = False
        self._slips: dict[tuple[str, str], Slip] = {}
        self._ordered: dict[str, list[tuple[str, str]]] = {}
        #: table -> the words last looked for, and what had them
        self._last: dict[str, tuple[str, list[tuple[str, str]]]] = {}
        self._children: dict[tuple[str, str], dict[str, None]] = {}
        for table in PARENTS:
            for doc_id, doc in docs[table].items():
                self._link(table, doc_id, doc)

    def children(self, table: str, parent_id: str) -> list[str]:
        """Ids of the records of `table` that hang on this parent, in no promised order."""
        return list(self._children.get((table, parent_id), ()))

    def latest(self, sward_id: str) -> str:
        """Id of the latest visit to a sward, "" when there is none."""
        return self._row(sward_id).latest[1]

    def swards(self, text: str, limit: int | None = None) -> list[str]:
        """Ids of the swards that have every word of `text`, latest visited first, then by name."""
        if not self._sorted:
            self._sort()
        words = fold(text).split()
        found: list[str] = []
        for sward_id in self._order:
            if limit is not None and len(found) >= limit:
                break
            row = self._row(sward_id).text
            if all(word in row for word in words):
                found.append(sward_id)
        return found

    def clients(self, text: str, limit: int | None = None) -> list[str]:
        """Ids of the clients that have every word of `text` in name, contacts, address or note, by name."""
        words = fold(text).split()
        found = []
        for client_id, doc in self._docs["clients"].items():
            if client_id not in self._clients:
                text = _folded(doc, (*_CLIENT_FIELDS, "email", "phone"))
                self._clients[client_id] = (text, fold(str(doc.get("name", ""))))
            text, name = self._clients[client_id]
            if all(word in text for word in words):
                found.append((name, client_id))
        return [client_id for _, client_id in sorted(found)[:limit]]

    def records(self, table: str, text: str, limit: int | None = None) -> list[str]:
        """Ids of the records of a table that have every word of `text` in their own texts or in the names of
        what they hang on; by name, visits latest first."""
        sought = fold(text).strip()
        before, found = self._last.get(table, ("", []))
        if not before or not sought.startswith(before):
            found = self._in_order(table)
        for word in sought.split():
            found = [(text, one) for text, one in found if word in text]
        self._last[table] = (sought, found)
        return [one for _, one in found[:limit]]

    def changed(self, table: str, doc_id: str, old: Json | None, new: Json | None) -> None:
        """Take in that a document is now another one (None: is not there)."""
        self._drop(table, doc_id)
        if table in PARENTS:
            if old is not None:
                self._children.get(_parent(table, old), {}).pop(doc_id, None)
            if new is not None:
                self._link(table, doc_id, new)
        if table == "clients":
            self._clients.pop(doc_id, None)
            touched = self.children("swards", doc_id)
        elif table == "visits":
            touched = [str(doc.get("sward_id", "")) for doc in (old, new) if doc is not None]
        else:
            touched = [doc_id] if table == "swards" else []
        for sward_id in touched:
            self._rows.pop(sward_id, None)
            self._sorted = False

    def _drop(self, table: str, doc_id: str) -> None:
        """Forget the entry of a record and, as its name is in theirs, of what hangs on it."""
        self._slips.pop((table, doc_id), None)
        self._ordered.pop(table, None)
        self._last.pop(table, None)
        for child_table, (parent_table, _) in PARENTS.items():
            if parent_table == table:
                for child in self.children(child_table, doc_id):
                    self._drop(child_table, child)

    def _in_order(self, table: str) -> list[tuple[str, str]]:
        """(text, id) of every record of a table, in the order of its list."""
        if table not in self._ordered:
            slips = [(self._slip(table, doc_id), doc_id) for doc_id in self._docs[table]]
            slips.sort(key=lambda pair: pair[0].order, reverse=table == "visits")
            self._ordered[table] = [(slip.text, doc_id) for slip, doc_id in slips]
        return self._ordered[table]

    def _slip(self, table: str, doc_id: str) -> Slip:
        slip = self._slips.get((table, doc_id))
        if slip is None:
            doc = self._docs[table].get(doc_id, {})
            text = _folded(doc, _FIELDS[table])
            parent_table, field = PARENTS.get(table, ("", ""))
            parent = str(doc.get(field, "")) if field else ""
            while parent_table and parent in self._docs[parent_table]:
                above = self._docs[parent_table][parent]
                text = f"{text}\n{_folded(above, ('name', 'kind'))}"
                parent_table, field = PARENTS.get(parent_table, ("", ""))
                parent = str(above.get(field, "")) if field else ""
            first = str(doc.get("started", "")) if table == "visits" else fold(str(doc.get("name", "")))
            slip = self._slips[table, doc_id] = Slip(text, (first, doc_id))
        return slip

    def _link(self, table: str, doc_id: str, doc: Json) -> None:
        self._children.setdefault(_parent(table, doc), {})[doc_id] = None

    def _sort(self) -> None:
        by_name = sorted(self._docs["swards"], key=lambda sward_id: self._row(sward_id).name)
        self._order = sorted(by_name, key=lambda sward_id: self._row(sward_id).latest[0], reverse=True)
        self._sorted = True

    def _row(self, sward_id: str) -> Row:
        row = self._rows.get(sward_id)
        if row is None:
            row = self._rows[sward_id] = self._make_row(sward_id)
        return row

    def _make_row(self, sward_id: str) -> Row:
        sward = self._docs["swards"].get(sward_id, {})
        client = self._docs["clients"].get(str(sward.get("client_id", "")), {})
        visits = [
            (visit_id, self._docs["visits"][visit_id]) for visit_id in self.children("visits", sward_id)
        ]
        texts = [_folded(sward, _SWARD_FIELDS), _folded(client, _CLIENT_FIELDS)]
        texts += [_folded(visit, _VISIT_FIELDS) for _, visit in visits]
        latest = max(
            ((str(visit.get("started", "")), visit_id) for visit_id, visit in visits), default=("", "")
        )
        return Row("\n".join(texts), fold(str(sward.get("name", ""))), latest)


def _parent(table: str, doc: Json) -> tuple[str, str]:
    return table, str(doc.get(PARENTS[table][1], ""))


def _folded(doc: Json, names: tuple[str, ...]) -> str:
    return fold("\n".join(_flat(doc[name]) for name in names if doc.get(name)))


def _flat(value: Any) -> str:
    """All texts in a JSON value, a line each."""
    if isinstance(value, Mapping):
        return "\n".join(_flat(item) for item in value.values())
    return "\n".join(_flat(item) for item in value) if isinstance(value, list | tuple) else str(value)
