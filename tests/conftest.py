"""No test here is timed: a slow moment of the machine never fails a property test."""

from hypothesis import settings

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
