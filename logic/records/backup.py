"""Everything in one file: a zip of the records, the bin and the photos, with a manifest of hashes; and back.

Taking in adds what is missing. Where both have a record and they differ, the one saved later stays (the
other remains in the history), so taking the same file in twice changes nothing the second time. Photos, and
whatever else is kept by its hash, lie in `files/`, each under that hash, so that it vouches for itself.
"""

import hashlib
import io
import json
import re
import zipfile
from collections.abc import Iterable, Iterator, Mapping
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
FILES = "files/"
LARGEST = 90_000_000  # bytes unpacked: far above any real book, and within one journal entry
LARGEST_FILE = 20_000_000  # bytes of a photo or paper: far above what the app keeps
DEEPEST = 40  # levels of nesting in a document
_ENDINGS = {b"\xff\xd8": ".jpg", b"%P": ".pdf"}
_FILE_NAME = re.compile(rf"{FILES}([0-9a-f]{{64}})(\.[a-z]+)?")

Tables = Mapping[str, Mapping[str, Json]]


@dataclass(frozen=True)
class Imported:
    """What taking a backup in did: records added, updated, the same already, and kept as they are here;
    photos added, and those that were spoilt in the file and left out."""

    added: int = 0
    updated: int = 0
    unchanged: int = 0
    kept: int = 0
    photos: int = 0
    spoilt: int = 0


def pack(tables: Tables, book: str, made: str, photos: Iterable[bytes] = ()) -> bytes:
    """The backup of these tables. book: id of the book; made: time as text; photos: bytes of each, taken one
    after the other, so that they need not all be in memory beside the zip."""
    records = canonical(tables)
    listed = {RECORDS: {"sha256": hashlib.sha256(records).hexdigest(), "size": len(records)}}
    manifest = {
        "format": FORMAT,
        "book": book,
        "made": made,
        "counts": {name: len(table) for name, table in tables.items()},
        "files": listed,
    }
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for photo in photos:
            key = hashlib.sha256(photo).hexdigest()
            name = f"{FILES}{key}{_ENDINGS.get(photo[:2], '')}"
            if name not in listed:
                listed[name] = {"sha256": key, "size": len(photo)}
                archive.writestr(zipfile.ZipInfo(name), photo, zipfile.ZIP_STORED)
        archive.writestr(zipfile.ZipInfo(RECORDS), records, zipfile.ZIP_DEFLATED)
        archive.writestr(
            zipfile.ZipInfo(MANIFEST), json.dumps(manifest, indent=1).encode(), zipfile.ZIP_DEFLATED
        )
    return out.getvalue()


def photos_in(data: bytes) -> Iterator[bytes | None]:
    """The photos of a backup one after the other, None for one that is not what its name says.

    Raises BrokenFile when it is no zip at all; what else a backup must be, `unpack` says.
    """
    try:
        archive = zipfile.ZipFile(io.BytesIO(data))
    except Exception as error:  # a spoilt zip raises nearly anything
        raise BrokenFile from error
    with archive:
        for name in archive.namelist():
            found = _FILE_NAME.fullmatch(name)
            if found:
                yield _photo(archive, name, found[1])


def _photo(archive: zipfile.ZipFile, name: str, key: str) -> bytes | None:
    try:
        with archive.open(name) as stream:
            data = stream.read(LARGEST_FILE + 1)
    except Exception:  # as above; one spoilt photo is no reason to refuse the rest
        return None
    return data if len(data) <= LARGEST_FILE and hashlib.sha256(data).hexdigest() == key else None


def hashes_in(tables: Tables) -> set[str]:
    """The hash of every photo or paper that a record names, those in the bin included."""
    found: set[str] = set()
    for table in ("photos", "messages", "bin"):
        _collect(list(tables.get(table, {}).values()), found)
    return found


def _collect(value: Any, found: set[str]) -> None:
    if isinstance(value, Mapping):
        if isinstance(value.get("sha256"), str):
            found.add(value["sha256"])
        value = list(value.values())
    if isinstance(value, list | tuple):
        for item in value:
            if isinstance(item, Mapping | list | tuple):
                _collect(item, found)


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
    # A spoilt zip raises nearly anything: its own errors, those of the compression, an end too soon.
    except Exception as error:
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
    if archive.getinfo(name).file_size <= LARGEST:
        with archive.open(name) as stream:
            data = stream.read(LARGEST + 1)
        if len(data) <= LARGEST:
            return data
    raise BrokenFile("This backup is too large to be one of Swardwright's. Nothing was changed.")


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
