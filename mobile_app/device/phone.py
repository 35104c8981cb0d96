"""The device behind the App: files offered and chosen, the address, and what the browser promised."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import flet as ft

from mobile_app.device.motion import Motion, Sample
from mobile_app.device.photos import Picked, Shrunk, open_photos, pick_photos, pixels, smaller
from mobile_app.device.photos_disk import PickedBytes
from mobile_app.device.where import in_browser


class Phone:
    """The browser tab, or the packaged app, that the page runs in."""

    def __init__(self, page: ft.Page) -> None:
        self.page = page
        self._haptic = ft.HapticFeedback()
        self.photos = open_photos()

    def offer(self, name: str, mime: str, data: bytes, title: str) -> None:
        """Show the person a finished file, to share or to keep."""
        if in_browser():
            from mobile_app.device.offer import offer_file

            offer_file(name, mime, data, title)
        else:
            self.page.run_task(self._save, name, data)

    async def _save(self, name: str, data: bytes) -> None:
        await ft.FilePicker().save_file(file_name=name, src_bytes=data)

    async def pick(self, extensions: list[str]) -> tuple[str, bytes] | None:
        """Let the person choose a file; None when they don't."""
        if in_browser():
            from mobile_app.device.choose import choose, read

            accept = ",".join(f".{ending}" for ending in extensions)
            chosen = await choose(accept, "Choose the file")
            return (str(chosen[0].name), await read(chosen[0])) if chosen else None
        files = await ft.FilePicker().pick_files(
            file_type=ft.FilePickerFileType.CUSTOM, allowed_extensions=extensions, with_data=True
        )
        if not files or files[0].bytes is None:
            return None
        return files[0].name, bytes(files[0].bytes)

    async def pick_photos(self, camera: bool) -> Sequence[Picked]:
        """Let the person take a photo, or choose some; none when they don't."""
        if in_browser():
            return await pick_photos(camera)
        files = await ft.FilePicker().pick_files(
            file_type=ft.FilePickerFileType.IMAGE, with_data=True, allow_multiple=not camera
        )
        return [PickedBytes(file.name, bytes(file.bytes)) for file in files or () if file.bytes]

    async def smaller(self, data: bytes, side: int) -> Shrunk:
        """A kept photo again, at most `side` px long."""
        return await smaller(data, side)

    async def pixels(self, data: bytes, side: int) -> list[tuple[int, int, int]]:
        """Red, green and blue of a kept photo's pixels, made at most `side` px long first."""
        return await pixels(data, side)

    def tick(self) -> None:
        """Let the hand feel that a tap was taken, where the device can."""
        self.page.run_task(self._haptic.light_impact)

    def listen_to_motion(
        self, on_samples: Callable[[list[Sample]], None], on_state: Callable[[str], None]
    ) -> Motion:
        """Listen to the motion sensor; on_state says "absent" or "denied" when there is none to be had."""
        motion = Motion(on_samples, on_state)
        motion.start()
        return motion

    def set_place(self, place: str) -> None:
        """Put the place into the address, so that the phone's back button works."""
        if self.page.route != place:
            self.page.run_task(self.page.push_route, place)

    def facts(self) -> dict[str, Any]:
        """What the device knows: persisted, standalone, demo, known (has had a book before), updateReady."""
        if not in_browser():
            return {}
        from mobile_app.device.window import window_fact

        names = ("persisted", "standalone", "demo", "known", "updateReady")
        return {name: window_fact(name, False) for name in names}

    def shown(self) -> None:
        """Tell the window that the first page is drawn."""
        self._tell("shown")

    def has_book(self) -> None:
        """Have it remembered, apart from the book itself, that there are records on this device."""
        self._tell("book-kept")

    def on_leaving(self, close: Callable[[], None]) -> None:
        """Have `close` called when the page goes away."""
        if in_browser():
            import js
            from pyodide.ffi import create_proxy

            js.swardwrightClose = create_proxy(close)

    def on_note(self, hear: Callable[[str], None]) -> None:
        """Have `hear` called with "online" when there is signal, "visible" when the app is looked at."""
        if in_browser():
            import js
            from pyodide.ffi import create_proxy

            js.swardwrightNote = create_proxy(hear)

    def _tell(self, kind: str) -> None:
        if in_browser():
            from mobile_app.device.window import tell_window

            tell_window(kind)
