"""What differs between the browser and an ordinary computer or phone: here, where the records are kept."""

import sys
from pathlib import Path

from logic.records.folder import Folder


async def open_folder(data: Path | None = None) -> Folder:
    """The place for the journal: the browser's own file system, or the folder `data` on disk.

    Raises StorageBusy when another tab or process holds it, StorageMissing when there is none to be had.
    """
    if sys.platform == "emscripten":
        from mobile_app.device import opfs

        return await opfs.open_folder()
    from mobile_app.device import disk

    return disk.open_folder(data or Path.home() / ".swardwright")
