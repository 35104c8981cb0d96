"""Which places of the app show one record, and of which kind."""

from collections.abc import Mapping

from logic.records.types import Client, Machine, Product, Record, Site, Supplier, Sward, Visit

#: The id is the second part of such a place; "new" after it is for a record that is not in the book yet.
PLACES: Mapping[str, type[Record]] = {
    "visit": Visit,
    "sward": Sward,
    "edit": Sward,
    "client": Client,
    "privacy": Client,
    "site": Site,
    "supplier": Supplier,
    "product": Product,
    "machine": Machine,
}
