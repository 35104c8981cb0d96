"""From readings, season and wishes to an ordered programme, the day itself, and the weeks after.

plan: the ordered steps; season, growth, germination, recovery: when; day: what was done; exposure, handling:
what it costs the body; stages, calendar, aftercare: what follows.
"""
