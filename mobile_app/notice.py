"""What the app says at the foot of the band: one sentence, and how long it goes along."""

from __future__ import annotations

from dataclasses import dataclass, replace


@dataclass(frozen=True)
class Notice:
    """One sentence, perhaps with a way back. carries: to how many further pages it still goes along."""

    sentence: str
    serious: bool = False
    undo: bool = False
    carries: int = 1

    def carried(self) -> Notice | None:
        """The notice on the next page: a serious one until it is put away, one with a way back once."""
        if self.serious:
            return self
        return replace(self, carries=self.carries - 1) if self.undo and self.carries else None
