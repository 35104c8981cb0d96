"""What the green shows: one file for each kind of reading; each says how to take it, how many, and what it
doesn't tell."""
