"""The bin: what goes into it with what, and what comes out again, as documents of the store."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from logic.errors import Conflict, NotFound
from logic.records.journal import Journal
from logic.records.search import PARENTS, Finder
from logic.records.state import Key
from logic.records.types import KINDS, Json

BIN = "bin"


@dataclass(frozen=True)
class Binned:
    """Something in the bin: a record with everything that hung on it."""

    id: str
    noun: str
    label: str
    deleted: datetime
    #: records that come back with it, itself included
    count: int


def in_bin(journal: Journal) -> list[Binned]:
    """What can be restored, newest first."""
    found = [
        Binned(
            doc["id"],
            doc["noun"],
            doc["label"],
            datetime.fromisoformat(doc["deleted"]),
            len(doc["records"]),
        )
        for doc in journal.table(BIN).values()
    ]
    return sorted(found, key=lambda binned: binned.deleted, reverse=True)


def binned(journal: Journal, keys: Sequence[Key], noun: str, label: str, moment: str) -> dict[str, Any]:
    """The document of the bin for these records, the first of which is the one that was deleted."""
    record_id = keys[0][1]
    records = [{"table": table, "doc": journal.table(table)[doc_id]} for table, doc_id in keys]
    # What was in the bin under this name already stays with it.
    before = journal.table(BIN).get(record_id, {"records": []})["records"]
    records += [item for item in before if (item["table"], item["doc"]["id"]) not in keys]
    return {
        "id": record_id,
        "noun": noun,
        "label": label,
        "deleted": moment,
        "records": records,
        "changed": moment,
    }


def restoring(journal: Journal, record_id: str) -> tuple[dict[Key, Json | None], str]:
    """The documents of a restoring, and its words. Raises NotFound, Conflict (what it hangs on is gone)."""
    doc = journal.table(BIN).get(record_id)
    if doc is None:
        raise NotFound("This is no longer in the bin.")
    first = doc["records"][0]
    _check_parent(journal, first["table"], first["doc"])
    docs: dict[Key, Json | None] = {(BIN, record_id): None}
    for item in doc["records"]:
        # What has come back on another way in the meantime is newer and stays.
        if item["doc"]["id"] not in journal.table(item["table"]):
            docs[item["table"], item["doc"]["id"]] = item["doc"]
    return docs, f"{doc['noun']} {doc['label']} restored"


def with_children(finder: Finder, key: Key, but: Mapping[Key, Any]) -> list[Key]:
    """This record, first, and all that hang on it but for these and what hangs on them."""
    keys = [key]
    for table, (parent_table, _) in PARENTS.items():
        if parent_table == key[0]:
            for child in finder.children(table, key[1]):
                keys += with_children(finder, (table, child), but) if (table, child) not in but else []
    return keys


def _check_parent(journal: Journal, table: str, doc: Json) -> None:
    if table not in PARENTS:
        return
    parent_table, field = PARENTS[table]
    parent_id = doc.get(field)
    if parent_id and parent_id not in journal.table(parent_table):
        noun, parent = KINDS[table].noun, KINDS[parent_table].noun
        raise Conflict(f"The {parent} of this {noun} is not in the book. Restore the {parent} first.")
