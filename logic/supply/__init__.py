"""What a job needs, what to buy, how to carry it, what it takes in hours, and what to charge.

Money is exact (Decimal); amounts of material carry the ± of the ground. Nothing here knows of records.
"""
