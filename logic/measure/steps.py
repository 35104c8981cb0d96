"""Steps counted from a phone's accelerometer: a suggestion for the walker to confirm, never a measurement.

Method (common practice, no source): the size of the acceleration is smoothed, its slow mean (gravity) is
taken off, and a step is a rise above a threshold that follows the height of the last steps, once the swing
has gone below zero again and not sooner than a step can follow a step.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

SMOOTHING = 0.06  # time constant of the smoothing [s]: passes steps at 2 a second, stops jolts
GRAVITY = 1.0  # time constant of the slow mean [s]
LEAST_RISE = 0.7  # least height of a step above the mean [m/s²]: a phone in the hand, a slow walk
SHARE = 0.45  # of the height of the last steps that a new one has to reach
SHORTEST = 0.3  # no step follows another sooner [s]; a run has 3 steps a second
FADE = 2.0  # time in which an old height is forgotten [s]


@dataclass
class StepCounter:
    """Counts steps in samples as they come. steps: how many so far."""

    steps: int = 0
    _time: float | None = None
    _smooth: float = 0.0
    _mean: float = 0.0
    _height: float = field(default=2 * LEAST_RISE)
    _armed: bool = True
    _last: float = -math.inf

    def take(self, seconds: float, x: float, y: float, z: float) -> bool:
        """One sample: time [s], acceleration with gravity on three axes [m/s²]. True when it makes a step."""
        size = math.sqrt(x * x + y * y + z * z)
        if not math.isfinite(size) or not math.isfinite(seconds):
            return False
        if self._time is None or not 0 < seconds - self._time < 1:
            self._time, self._smooth, self._mean = seconds, size, size  # the first sample, or after a gap
            return False
        passed = seconds - self._time
        self._time = seconds
        self._smooth += (size - self._smooth) * (1 - math.exp(-passed / SMOOTHING))
        self._mean += (size - self._mean) * (1 - math.exp(-passed / GRAVITY))
        self._height = max(2 * LEAST_RISE, self._height * math.exp(-passed / FADE))
        return self._is_step(seconds, self._smooth - self._mean)

    def _is_step(self, seconds: float, swing: float) -> bool:
        if swing > self._height:
            self._height = swing
        if swing < 0:
            self._armed = True
        high_enough = swing > max(LEAST_RISE, SHARE * self._height)
        if not (self._armed and high_enough and seconds - self._last >= SHORTEST):
            return False
        self._armed, self._last = False, seconds
        self.steps += 1
        return True
