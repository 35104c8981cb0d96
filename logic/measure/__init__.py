"""Every way of measuring a green: a module with a METHOD each, found by `methods`; readings in, Outline out.

Beside them: the walker's pace (`pacing`), measured twice (`twice`), levels and hollows, phone positions as a
rough locator, and the statistics of readings (`sampling`).
"""
