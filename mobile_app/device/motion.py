"""The phone's motion sensor: samples from the window, or the word that there are none."""

from __future__ import annotations

import contextvars
from collections.abc import Callable
from typing import Any

from mobile_app.device.where import in_browser

Sample = tuple[float, float, float, float]


class Motion:
    """Listens to the sensor. on_samples: (seconds, x, y, z) [s, m/s²]; on_state: "absent" or "denied"."""

    def __init__(self, on_samples: Callable[[list[Sample]], None], on_state: Callable[[str], None]) -> None:
        self._on_samples, self._on_state = on_samples, on_state
        # The window calls from outside; what is drawn in answer needs the page that we were called from.
        self._context = contextvars.copy_context()
        self._heard: Any = None

    def start(self) -> None:
        """Ask for the sensor; the person may have to allow it."""
        if not in_browser():
            self._on_state("absent")
            return
        import js
        from pyodide.ffi import create_proxy

        from mobile_app.device.window import tell_window

        self.stop()
        self._heard = create_proxy(self._hear)
        js.self.swardwrightMotion = self._heard
        tell_window("motion-start")

    def stop(self) -> None:
        """Stop listening."""
        if self._heard is None:
            return
        import js

        from mobile_app.device.window import tell_window

        tell_window("motion-stop")
        js.self.swardwrightMotion = None
        self._heard.destroy()
        self._heard = None

    def _hear(self, message: Any) -> None:
        state = getattr(message, "state", None)
        if state:
            self._context.run(self._on_state, str(state))
            return
        numbers = message.samples.to_py().tolist()
        samples = [tuple(numbers[i : i + 4]) for i in range(0, len(numbers) - 3, 4)]
        self._context.run(self._on_samples, samples)
