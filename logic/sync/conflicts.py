"""What stands side by side and waits for a person: found, described, and decided, with no signal needed."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from logic.records.book import Book
from logic.records.documents import from_doc
from logic.records.leaves import doc_of
from logic.records.search import PARENTS
from logic.records.types import KINDS, Json
from logic.sync.ledger import Ledger
from logic.sync.packing import DOTS, dots_id, key_in
from logic.sync.placing import BIN, document
from logic.sync.registers import WHOLE, Key
from logic.sync.shown import ABSENT, Choice, below, choices, show
from logic.sync.writes import deletion, resolved, written

#: Values of a choice on a whole record.
KEEP, DELETE = "keep", "delete"
_EMPTIED = "No longer in the bin"


@dataclass(frozen=True)
class Conflict:
    """Values that stand side by side in a field, or a record that one deleted and another changed.

    field: words for the place in the record; choices: that which is shown now first. kind "deleted": the
    choices have the values KEEP and DELETE; "orphan": what it hangs on was deleted.
    """

    key: Key
    path: str
    kind: Literal["field", "deleted", "orphan"]
    noun: str
    label: str
    field: str
    choices: tuple[Choice, ...]


def count(book: Book, ledger: Ledger) -> int:
    """How many conflicts there are."""
    if not ledger.paired:
        return 0
    clashes = sum(len(doc.get("clash", ())) for doc in book.table(DOTS).values())
    return clashes + len(_orphans(book))


def conflicts(book: Book, ledger: Ledger) -> list[Conflict]:
    """All conflicts, those of one record together."""
    if not ledger.paired:
        return []
    found: list[Conflict] = []
    for doc_id, doc in book.table(DOTS).items():
        if doc.get("clash"):
            key = key_in(doc_id)
            state = ledger.state(key)
            found += [_conflict(book, key, state, path, ledger.device) for path in doc["clash"]]
    two = (Choice(KEEP, "", 0), Choice(DELETE, "", 0))
    for key in _orphans(book):
        noun, label = _named(book, key)
        found.append(Conflict(key, WHOLE, "orphan", noun, label, "", two))
    return found


def decide(book: Book, ledger: Ledger, conflict: Conflict, choice: Choice) -> None:
    """Let this choice stand, as a change of this phone's. Raises StorageError, Conflict, NotFound."""
    why = f"{conflict.noun} {conflict.label}: decided"
    if conflict.kind == "orphan":
        return _decide_orphan(book, conflict.key, choice)
    state, n = ledger.state(conflict.key), ledger.next_number()
    if conflict.kind == "field":
        if choice.device == "":  # the parts below stay, the value above them goes
            change = resolved(state, conflict.path, ABSENT, ledger.device, n)
        else:
            change = resolved(state, conflict.path, choice.value, ledger.device, n)
    else:
        keep = written(state, WHOLE, ledger.device, n, ABSENT, over_all=True)
        said = show(state).deleted or {}
        binned = {**said, "id": said.get("root", conflict.key[1])}
        word = keep if choice.value == KEEP else deletion(state, ledger.device, n, binned)
        change = {"table": conflict.key[0], "id": conflict.key[1], "fields": {WHOLE: word}}
    ledger.decide(conflict.key, change, why)


def _conflict(book: Book, key: Key, state: Mapping[str, Any], path: str, me: str) -> Conflict:
    noun, label = _named(book, key)
    if path == WHOLE:
        deleter = next((c for c in choices(state["fields"][WHOLE]) if isinstance(c.value, Mapping)), None)
        two = (
            Choice(KEEP, _last_writer(state), 0),
            Choice(DELETE, deleter.device if deleter else "", deleter.n if deleter else 0),
        )
        return Conflict(key, path, "deleted", noun, label, "", two)
    found = tuple(choices(state["fields"][path], me))
    leaves = show(state, me).leaves
    parts = below(path, leaves)
    if parts:
        name = path.split("/")[-1]
        inner = doc_of({f"{name}{other[len(path) :]}": leaves[other] for other in parts})
        found = (Choice(next(iter(inner.values())), "", 0), *found)
    return Conflict(key, path, "field", noun, label, words(path), found)


def words(path: str) -> str:
    """A path as a person reads it: "outline/drafts/offsets/spacing" is "outline, offsets, spacing"."""
    parts = [
        part for part in path.split("/") if part not in ("drafts", "values") and not part.startswith("#")
    ]
    names = [
        part.replace("~1", "/").replace("~2", "#").replace("~0", "~").replace("_", " ") for part in parts
    ]
    return ", ".join(names) + (", one entry" if "/#" in path else "")


def _last_writer(state: Mapping[str, Any]) -> str:
    dots = [
        (value[0], device)
        for path, register in state["fields"].items()
        if path != WHOLE
        for device, value in register["is"].items()
    ]
    return max(dots)[1] if dots else ""


def _named(book: Book, key: Key) -> tuple[str, str]:
    kind, doc = KINDS.get(key[0]), document(book.table, key)
    if kind is None or doc is None:
        return "record", key[1]
    return kind.noun, from_doc(kind, doc).label


def _orphans(book: Book) -> list[Key]:
    """Records that hang on one that is not there any more: it was deleted on another phone meanwhile."""
    found = []
    for table, (parents, field) in PARENTS.items():
        there = book.table(parents)
        for doc_id, doc in book.table(table).items():
            parent = doc.get(field)
            if parent and parent not in there and _was_deleted(book, (parents, str(parent))):
                found.append((table, doc_id))
    return found


def _was_deleted(book: Book, key: Key) -> bool:
    dots: Json | None = book.table(DOTS).get(f"{key[0]} {key[1]}")
    return dots is not None and WHOLE in dots["more"]


def _decide_orphan(book: Book, key: Key, choice: Choice) -> None:
    kind = KINDS[key[0]]
    record = from_doc(kind, book.table(key[0])[key[1]])
    if choice.value == DELETE:
        return book.delete(record)
    _bring_back(book, _parent(key[0], book.table(key[0])[key[1]]))


def _bring_back(book: Book, key: Key | None) -> None:
    """Have a record back, with what it hangs on: out of the bin, or by name only when that was emptied."""
    if key is None or key[1] in book.table(key[0]):
        return
    root = str((book.table(DOTS).get(dots_id(key)) or {}).get("root", ""))
    binned = book.table(BIN).get(root)
    if binned is None:
        named = "title" if key[0] == "visits" else "name"
        book.save(from_doc(KINDS[key[0]], {"id": key[1], named: _EMPTIED}), "brought back")
        return
    first = binned["records"][0]
    _bring_back(book, _parent(first["table"], first["doc"]))
    book.restore(root)


def _parent(table: str, doc: Json) -> Key | None:
    if table not in PARENTS or not doc.get(PARENTS[table][1]):
        return None
    return PARENTS[table][0], str(doc[PARENTS[table][1]])


__all__ = ["DELETE", "KEEP", "Conflict", "conflicts", "count", "decide", "words"]
