"""Where the app runs."""

import sys


def in_browser() -> bool:
    """Whether this is the browser's Python, inside a web worker."""
    return str(sys.platform) == "emscripten"
