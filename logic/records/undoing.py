"""Taking the last step back: which it is, and what documents that makes, whatever came in since."""

from logic.errors import Conflict
from logic.records.entry import Entry
from logic.records.journal import Journal
from logic.records.leaves import BESIDE, undone
from logic.records.state import Key
from logic.records.types import Json

_ELSEWHERE = "This was changed elsewhere in the meantime, so it can't be taken back. Change it by hand."


def last_done(journal: Journal) -> Entry | None:
    """The newest entry that is neither an undoing nor undone nor quiet."""
    taken_back = set()
    for entry in journal.newest():
        if "undoes" in entry.marks:
            taken_back.add(entry.marks["undoes"])
        elif entry.number not in taken_back and not entry.marks.get("quiet"):
            return entry
    return None


def undoing(journal: Journal, entry: Entry) -> dict[Key, Json | None]:
    """The documents as they are with this entry taken back: only what it changed, where that still stands.

    Raises Conflict when what it made or deleted is another one by now.
    """
    docs: dict[Key, Json | None] = {}
    for change in entry.changes:
        if change.table in BESIDE:
            continue
        before = journal.document(change.table, change.id, change.before)
        now = journal.table(change.table).get(change.id)
        possible, doc = undone(change.table, before, change.doc, now)
        if not possible:
            raise Conflict(_ELSEWHERE)
        docs[change.table, change.id] = doc
    return docs
