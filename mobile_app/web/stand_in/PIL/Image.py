"""The names that reportlab looks up at import; using one says plainly why it cannot work."""

from typing import Any, NoReturn


class Image:
    """Never made here; exists so that `isinstance` checks work."""


def _absent(*_args: Any, **_kwargs: Any) -> NoReturn:
    raise RuntimeError("Pictures are handled as JPEG files here: there is no Pillow in the browser.")


open = new = frombytes = fromarray = merge = _absent
