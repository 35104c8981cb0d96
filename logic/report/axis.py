"""Round values for the axis of a chart, on paper and on screen."""

from __future__ import annotations

import math

_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


def ticks(low: float, high: float, parts: int = 4) -> list[float]:
    """Round values that hold both ends, about `parts` steps between them; from nought where that is near."""
    low = 0.0 if 0 <= low < 0.6 * high else low
    reach = (high - low) or abs(high) or 1.0
    power = 10.0 ** math.floor(math.log10(reach / parts))
    step = next(s * power for s in _STEPS if s * power >= reach / parts * (1 - 1e-9))
    first = math.floor(low / step + 1e-9)
    last = max(math.ceil(high / step - 1e-9), first + 1)
    return [n * step for n in range(first, last + 1)]
