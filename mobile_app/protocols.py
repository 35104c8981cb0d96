"""What the App asks of the device it runs on, and nothing more: a test double is thirty lines."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Protocol

from mobile_app.device.photos import Photos, Picked, Shrunk

Sample = tuple[float, float, float, float]  # time [s] and acceleration on three axes [m/s²]


class Listening(Protocol):
    """The motion sensor being listened to."""

    def stop(self) -> None:
        """Stop listening."""


class Device(Protocol):
    """What differs between a browser and a packaged app."""

    def offer(self, name: str, mime: str, data: bytes, title: str) -> None:
        """Show the person a finished file, to share or to keep."""

    async def pick(self, extensions: list[str]) -> tuple[str, bytes] | None:
        """Let the person choose a file; None when they don't."""

    photos: Photos

    async def pick_photos(self, camera: bool) -> Sequence[Picked]:
        """Let the person take a photo, or choose some; none when they don't."""

    async def smaller(self, data: bytes, side: int) -> Shrunk:
        """A kept photo again, at most `side` px long."""

    async def pixels(self, data: bytes, side: int) -> list[tuple[int, int, int]]:
        """Red, green and blue of a kept photo's pixels, made at most `side` px long first."""

    def set_place(self, place: str) -> None:
        """Put the place into the address, so that the phone's back button works."""

    def facts(self) -> dict[str, Any]:
        """What the device knows: persisted, standalone, demo, known."""

    def has_book(self) -> None:
        """Have it remembered that there are records on this device."""

    def tick(self) -> None:
        """Let the hand feel that a tap was taken, where the device can."""

    def listen_to_motion(
        self, on_samples: Callable[[list[Sample]], None], on_state: Callable[[str], None]
    ) -> Listening:
        """Listen to the motion sensor; on_state says "absent" or "denied" when there is none to be had."""
