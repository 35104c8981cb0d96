"""The records of the business: their types, the book that keeps them, the journal under it, and job files.

Screens use `book.Book` and the classes in `types`; everything else here stands behind those two.
"""
