"""Papers for the customer: a neutral sketch of the green that screen and paper both draw, and PDFs.

SummaryData says what goes on paper; summary makes the file; unprintable names what the font can't draw.
"""
