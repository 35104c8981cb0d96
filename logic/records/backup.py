"""Everything in one file: a zip of the records and the bin, with a manifest of hashes; and back again.

Taking in adds what is missing. Where both have a record and they differ, the one saved later stays (the
other remains in the history), so taking the same file in twice changes nothing the second time.
"""

import hashlib
import io
import json
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from logic.errors import BrokenFile, FileError, NewerFormat
from logic.records.entry import canonical
from logic.records.folder import BLOB_NAMES, Folder, read_all
from logic.records.nesting import is_deeper
from logic.records.types import Json

FORMAT = "swardwright-backup/1"
RECORDS = "records.json"
MANIFEST = "manifest.json"
LARGEST = 90_000_000  # bytes unpacked: far above any real book, and within one journal entry
DEEPEST = 40  # levels of nesting in a document

Tables = Mapping[str, Mapping[str, Json]]


@dataclass(frozen=True)
class Imported:
    """What taking a backup in did: records added, updated, the same already, and kept as they are here."""

    added: int = 0
    updated: int = 0
    unchanged: int = 0
    kept: int = 0


def pack(tables: Tables, book: str, made: str) -> bytes:
    """The backup of these tables. book: id of the book; made: time as text."""
    records = canonical(tables)
    manifest = {
        "format": FORMAT,
        "book": book,
        "made": made,
        "counts": {name: len(table) for name, table in tables.items()},
        "files": {RECORDS: {"sha256": hashlib.sha256(records).hexdigest(), "size": len(records)}},
    }
    return zipped({MANIFEST: json.dumps(manifest, indent=1).encode(), RECORDS: records})


def unpack(data: bytes) -> dict[str, dict[str, dict[str, Any]]]:
    """The tables in a backup. Raises BrokenFile or NewerFormat with one sentence."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            manifest = _parsed(_member(archive, MANIFEST))
            _check_format(manifest)
            records = _member(archive, RECORDS)
        if hashlib.sha256(records).hexdigest() != manifest["files"][RECORDS]["sha256"]:
            raise BrokenFile(
                "This backup is damaged: its records do not match its manifest. Nothing was changed."
            )
        tables: dict[str, dict[str, dict[str, Any]]] = _parsed(records)
        canonical(tables)  # what cannot be written is refused here, before anything is changed
        _check_shape(tables)
    except FileError:
        raise
    except (
        Exception
    ) as error:  # a spoilt zip raises nearly anything: zlib.error, EOFError, NotImplementedError…
        raise BrokenFile(
            "This is not a backup of Swardwright's, or it is damaged. Nothing was changed."
        ) from error
    return tables


def differences(have: Tables, wanted: Tables) -> tuple[dict[tuple[str, str], Json], Imported]:
    """The documents of `wanted` that are to be stored over `have`, and the count of everything."""
    docs: dict[tuple[str, str], Json] = {}
    added = updated = unchanged = kept = 0
    for table, doc_id, doc in _each(wanted):
        mine = have.get(table, {}).get(doc_id)
        if mine is None:
            added += 1
        elif mine == doc:
            unchanged += 1
            continue
        elif str(doc.get("changed", "")) > str(mine.get("changed", "")):
            updated += 1
        else:
            kept += 1
            continue
        docs[table, doc_id] = doc
    return docs, Imported(added, updated, unchanged, kept)


def raw_copy(folder: Folder) -> bytes:
    """A zip of the store's own files as they are: for rescue, and also when the book cannot be opened."""
    names = [name for name in BLOB_NAMES if name != "ballast"]
    return zipped({name: read_all(folder.open(name)) for name in names})


def zipped(files: Mapping[str, bytes]) -> bytes:
    """A zip with these files; the same files give the same bytes."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, data in files.items():
            archive.writestr(zipfile.ZipInfo(name), data, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def _member(archive: zipfile.ZipFile, name: str) -> bytes:
    # The size in the directory may lie, so reading stops at the limit whatever it says.
    with archive.open(name) as stream:
        data = stream.read(LARGEST + 1)
    if len(data) > LARGEST:
        raise BrokenFile("This backup is too large to be one of Swardwright's. Nothing was changed.")
    return data


def _parsed(data: bytes) -> Any:
    text = data.decode("utf-8")
    if is_deeper(text, DEEPEST + 8):  # documents lie some levels down; how deep each is, is asked later
        raise ValueError
    return json.loads(text)


def _check_format(manifest: Json) -> None:
    name, _, version = manifest["format"].partition("/")
    if f"{name}/" != FORMAT[:-1] or int(version) < 1:
        raise BrokenFile
    if int(version) > 1:
        raise NewerFormat(
            "This backup was made by a newer version of Swardwright. "
            "Update the app to read it; nothing was changed."
        )


def _check_shape(tables: Any) -> None:
    for table, doc_id, doc in _each(tables):
        if not isinstance(doc, dict) or doc.get("id") != doc_id or _deeper_than(DEEPEST, doc):
            raise ValueError(doc_id)
        if table == "bin":
            _check_binned(doc)


def _check_binned(doc: Json) -> None:
    datetime.fromisoformat(doc["deleted"])
    texts = [doc["noun"], doc["label"]]
    for item in doc["records"]:
        texts += [item["table"], item["doc"]["id"]]
    if not doc["records"] or not all(isinstance(text, str) for text in texts):
        raise ValueError(doc["id"])


def _each(tables: Tables) -> Iterator[tuple[str, str, Json]]:
    for table, docs in tables.items():
        for doc_id, doc in docs.items():
            yield table, doc_id, doc


def _deeper_than(levels: int, value: Any) -> bool:
    if not isinstance(value, dict | list):
        return False
    if not levels:
        return True
    return any(
        _deeper_than(levels - 1, item) for item in (value.values() if isinstance(value, dict) else value)
    )
