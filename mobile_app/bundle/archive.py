"""Packs the app's Python into one tar file, byte for byte the same for the same input."""

import io
import tarfile
from collections.abc import Iterable

from mobile_app.bundle.sources import Member


def pack(members: Iterable[Member]) -> bytes:
    """The members as an uncompressed ustar archive, in order of name, without dates or owners.

    Uncompressed, because the server or host compresses it better than a tar.gz, and because the worker
    lays it out without copying. Raises ValueError for a name that is given twice.
    """
    buffer = io.BytesIO()
    seen: set[str] = set()
    with tarfile.open(fileobj=buffer, mode="w", format=tarfile.USTAR_FORMAT) as archive:
        for member in sorted(members, key=lambda m: m.name):
            if member.name in seen:
                raise ValueError(f"{member.name} would be in the archive twice.")
            seen.add(member.name)
            entry = tarfile.TarInfo(member.name)
            entry.size = len(member.data)
            archive.addfile(entry, io.BytesIO(member.data))
    return buffer.getvalue()
