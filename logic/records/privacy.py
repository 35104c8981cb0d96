"""One client's data: all of it, for a copy, and the forgetting of it so that no byte in the store tells of
it.

What belongs to a client is found by what hangs on what, in the newest version of each record that is kept
anywhere: current, in the bin, or in the history. A green that was moved to another client stays with that
one. Forgetting is a deletion, in one entry that also notes what is to be scrubbed, and then the scrubbing of
every file. A kill in between leaves the note, and the next opening goes on from it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from logic.errors import NotFound
from logic.records.entry import Entry
from logic.records.journal import Journal
from logic.records.leaves import BESIDE
from logic.records.search import PARENTS, fold
from logic.records.state import Key
from logic.records.types import Json

BIN = "bin"
PURGING = "purging"
REMOVED = "words removed"
_SHORTEST = 3  # letters of a name that is looked for in what saves were for
_NAMES = ("name", "email", "phone", "title")


@dataclass(frozen=True)
class Kept:
    """All that is kept of one client.

    newest: each record, the client first, as it is or last was; binned: the ids of those in the bin; gone:
    the ids of those that only the history has; versions: (number, time, what for, table, document).
    """

    newest: Mapping[Key, Json]
    binned: frozenset[str]
    gone: frozenset[str]
    versions: tuple[tuple[int, str, str, str, Json], ...]

    def hashes(self) -> set[str]:
        """The hashes of photos and papers, in whatever version."""
        docs = (doc for *_, doc in self.versions)
        found = {str(doc.get("sha256") or (doc.get("paper") or {}).get("sha256") or "") for doc in docs}
        return found - {""}


def kept_of(journal: Journal, client_id: str) -> Kept:
    """Everything that the store holds of a client. Raises NotFound when there is nothing."""
    entries = {entry.number: entry for entry in journal.everything()}
    seen: dict[Key, Json] = {}
    where: dict[Key, str] = {}
    for number in sorted(entries):
        for change in entries[number].changes:
            if change.table == BIN:
                seen |= _in_bin(change.doc)
            elif change.table in PARENTS or change.table == "clients":
                seen |= {(change.table, change.id): change.doc} if change.doc is not None else {}
    for doc in journal.table(BIN).values():
        inside = _in_bin(doc)
        seen |= inside
        where |= dict.fromkeys(inside, BIN)
    for table in ("clients", *PARENTS):
        for doc_id, doc in journal.table(table).items():
            seen[table, doc_id] = doc
            where[table, doc_id] = table
    keys = _family(seen, client_id)
    if not keys:
        raise NotFound("This client is no longer in the book.")
    versions = [
        (number, entries[number].at, entries[number].why, table, doc)
        for number in sorted(entries)
        for change in entries[number].changes
        for (table, doc_id), doc in _documents(change.table, change.id, change.doc).items()
        if doc and (table, doc_id) in keys
    ]
    return Kept(
        {key: seen[key] for key in keys},
        frozenset(key[1] for key in keys if where.get(key) == BIN),
        frozenset(key[1] for key in keys if key not in where),
        tuple(versions),
    )


def forgetting(journal: Journal, kept: Kept) -> dict[Key, Json | None]:
    """The changes that delete all that is kept of a client and note what is to be scrubbed after them.

    The deletions themselves stay on record, by their random ids, so that other devices delete too.
    """
    keys = set(kept.newest)
    docs: dict[Key, Json | None] = {key: None for key in keys if key[1] in journal.table(key[0])}
    for bin_id, doc in journal.table(BIN).items():
        left = [item for item in doc["records"] if (item["table"], item["doc"]["id"]) not in keys]
        if len(left) < len(doc["records"]):
            docs[BIN, bin_id] = {**doc, "records": left} if left else None
    names = {str(doc.get(name, "")) for *_, doc in kept.versions for name in _NAMES}
    docs[PURGING, "now"] = {
        "id": "now",
        "keys": sorted([*key] for key in keys),
        "names": sorted(name for name in names if len(name) >= _SHORTEST),
    }
    return docs


def finish(journal: Journal) -> None:
    """Scrub what a forgetting noted, and take the note away; nothing when there is none."""
    note = journal.table(PURGING).get("now")
    if note is None:
        return
    keys = {(str(table), str(doc_id)) for table, doc_id in note["keys"]}
    keys = {key for key in keys if key[1] not in journal.table(key[0])}  # what is there is never scrubbed
    names = [fold(name) for name in note["names"]]
    last = max(entry.number for entry in journal.entries())

    def scrubbed(entry: Entry) -> Entry | None:
        # Deletions stay where a note is being worked off, which is the newest entry that tells of them.
        changes = tuple(
            change
            for change in entry.changes
            if change.table != PURGING
            and (
                (entry.number == last and (change.doc is None or change.table in BESIDE))
                or not keys & set(_documents(change.table, change.id, change.doc))
            )
        )
        if not changes and entry.number != last:
            return None
        said = fold(entry.why)
        is_told = len(changes) < len(entry.changes) and entry.number != last
        why = REMOVED if is_told or any(name in said for name in names) else entry.why
        return replace(entry, changes=changes, why=why)

    journal.scrub(scrubbed)
    journal.append({(PURGING, "now"): None}, "", {"quiet": True})


def _family(seen: Mapping[Key, Json], client_id: str) -> list[Key]:
    """The client and all that hangs on it, what hangs on a record after it."""
    first = ("clients", client_id)
    found = {first: None} if first in seen else {}
    grown = 0
    while len(found) > grown:
        grown = len(found)
        for key, doc in seen.items():
            if key[0] in PARENTS:
                table, field = PARENTS[key[0]]
                if (table, str(doc.get(field, ""))) in found:
                    found.setdefault(key)
    return list(found)


def _documents(table: str, doc_id: str, doc: Json | None) -> dict[Key, Json]:
    """The records that a change tells of: itself, or those within a thing in the bin."""
    if table == "dots":
        kind, _, record_id = doc_id.partition(" ")
        return {(kind, record_id): {}}
    if table == "unsent":
        records = ((doc or {}).get("change") or {}).get("records", ())
        return {(record["table"], record["id"]): {} for record in records}
    if table != BIN:
        return {(table, doc_id): doc or {}}
    inside = _in_bin(doc)
    return inside or {(kind, doc_id): {} for kind in ("clients", *PARENTS)}


def _in_bin(doc: Any) -> dict[Key, Json]:
    return {(item["table"], item["doc"]["id"]): item["doc"] for item in (doc or {}).get("records", ())}
