"""Finding swards and clients as the user types, and who hangs on whom. Kept up to date at every save.

A sward's row (its folded text, its latest visit) is made when it is first needed and dropped when anything
that it is made of changes; so a save costs nothing here, and a search is a substring test per sward.
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
_SWARD_FIELDS = ("name", "kind", "address", "note")
_VISIT_FIELDS = ("title", "notes")

# Letters that stand for themselves in Unicode but that people type without the stroke or the ligature.
_PLAIN = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"})


def fold(text: str) -> str:
    """Text for comparing: without case and accents. "Åse's GRÜN" and "ase's grun" fold to the same."""
    if text.isascii():
        return text.lower()
    parts = unicodedata.normalize("NFKD", text.casefold())
    return "".join(part for part in parts if not unicodedata.combining(part)).casefold().translate(_PLAIN)


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

    def changed(self, table: str, doc_id: str, old: Json | None, new: Json | None) -> None:
        """Take in that a document is now another one (None: is not there)."""
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
    return fold("\n".join(str(doc[name]) for name in names if doc.get(name)))
