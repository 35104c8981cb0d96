"""What the hub refuses with: a key for the phone's program, a sentence for the person, an HTTP status."""

from typing import Any

from logic.errors import SwardError


class Refused(SwardError):
    """An answer that is not the one hoped for: `more` joins its JSON, `wait` [s] becomes Retry-After."""

    def __init__(self, status: int, code: str, sentence: str, wait: int = 0, **more: Any) -> None:
        super().__init__(sentence)
        self.status = status
        self.code = code
        self.wait = wait
        self.more = more
