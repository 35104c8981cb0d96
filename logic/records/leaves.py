"""Documents as leaves: one value for every path, so that two changes to one record can be told apart.

    {"notes": "wet", "outline": {"method": "offsets"}, "readings": [{"id": "a1", …}]}
    -> {"notes": "wet", "outline/method": "offsets", "readings/#": ["a1"], "readings/#a1": {"id": "a1", …}}

Mappings are taken apart, and lists whose items all have an id: each item is one value, and the order of the
items another. Any other list is one value. "~0", "~1", "~2", "~3" in a path stand for "~", "/", "#" and an
empty key. A field that has its default counts as absent, for that is how an absent field is read.
"""

import functools
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from logic.records.documents import copy_json, to_doc
from logic.records.types import KINDS, Json

Leaves = dict[str, Any]

#: Tables of the book that are no records but what sync needs beside them.
BESIDE = ("dots", "unsent", "sync", "carried")
#: Fields that are this phone's own and are never sent.
OWN: Mapping[str, frozenset[str]] = {
    "visits": frozenset({"where"}),
    "settings": frozenset({"theme", "units", "plain_start", "seen", "person"}),
}
_NEVER = frozenset({"id", "changed"})
_DEEPEST = 6  # levels of mappings taken apart; what lies deeper is one value
_LONGEST = 60  # characters of a key that may become part of a path


def leaves_of(table: str, doc: Json) -> Leaves:
    """The leaves of a document, without the phone's own fields and those that have their default."""
    return normal(table, all_leaves(table, doc))


def all_leaves(table: str, doc: Json) -> Leaves:
    """The leaves of a document, but for the phone's own fields."""
    own = OWN.get(table, frozenset())
    found: Leaves = {}
    for name, value in doc.items():
        if name not in _NEVER and name not in own:
            _take_apart(_escaped(name), value, _DEEPEST, found)
    return found


def normal(table: str, leaves: Leaves) -> Leaves:
    """The leaves without fields that have their default."""
    defaults = _defaults(table)
    return {path: value for path, value in leaves.items() if path not in defaults or defaults[path] != value}


def doc_of(leaves: Mapping[str, Any]) -> dict[str, Any]:
    """The document that these leaves make. Where a leaf stands and others lie below it, those below win."""
    tree: dict[str, Any] = {}
    for path, value in leaves.items():
        node = tree
        for part in path.split("/"):
            node = node.setdefault(part, {})
        node["/"] = value  # no part of a path holds a stroke
    return {_plain(name): _put_together(node) for name, node in tree.items()}


def own_fields(table: str, doc: Json | None) -> dict[str, Any]:
    """The phone's own fields of a document."""
    return {name: doc[name] for name in OWN.get(table, ()) if doc is not None and name in doc}


def is_order(path: str) -> bool:
    """True for the path of the order of a list's items."""
    return path.endswith("/#")


def is_marker(value: Any) -> bool:
    """True for an empty mapping or list: it says only that nothing is there."""
    return isinstance(value, dict | list) and not value


def ordered(orders: Iterable[Iterable[Any]], items: Iterable[str]) -> list[str]:
    """Ids of the items as the orders, one after the other, have them; what none names comes last."""
    there = set(items)
    named = dict.fromkeys(str(item) for order in orders if isinstance(order, list) for item in order)
    return [item for item in named if item in there] + sorted(there - set(named))


def items_below(path: str, paths: Iterable[str]) -> list[str]:
    """Ids of the items of the list whose order has this path."""
    return [_plain(other[len(path) :]) for other in paths if other.startswith(path) and other != path]


def undone(table: str, before: Json | None, after: Json | None, now: Json | None) -> tuple[bool, Json | None]:
    """(True, the document with a change from `before` to `after` taken back), whatever else changed since.

    A leaf that has become another one since stays. (False, None) when it cannot be taken back at all: the
    record was made or deleted by the change, and is not any more as that left it.
    """
    if now == after:
        return True, before
    if before is None and after and now and all_leaves(table, now) == all_leaves(table, after):
        return True, None  # made by the change; since then only the phone's own fields are others
    if before is None or after is None or now is None or table == "bin":
        return False, None
    was, became, leaves = all_leaves(table, before), all_leaves(table, after), all_leaves(table, now)
    for path in {*was, *became}:
        if was.get(path) == became.get(path) or leaves.get(path) != became.get(path):
            continue
        if path in was:
            leaves[path] = was[path]
        else:
            leaves.pop(path, None)
    kept = {name: now[name] for name in (*_NEVER, *OWN.get(table, ())) if name in now}
    return True, {**doc_of(leaves), **kept}


def _take_apart(path: str, value: Any, levels: int, found: Leaves) -> None:
    if isinstance(value, Mapping) and value and levels and all(len(key) <= _LONGEST for key in value):
        for key, item in value.items():
            _take_apart(f"{path}/{_escaped(key)}", item, levels - 1, found)
    elif isinstance(value, list | tuple) and _has_ids(value):
        found[f"{path}/#"] = [item["id"] for item in value]
        found.update({f"{path}/#{_escaped(item['id'])}": item for item in value})
    else:
        found[path] = value


def _has_ids(items: Any) -> bool:
    ids = [item.get("id") if isinstance(item, Mapping) else None for item in items]
    usable = all(isinstance(item, str) and 0 < len(item) <= _LONGEST for item in ids)
    return bool(ids) and usable and len(set(ids)) == len(ids)


def _put_together(node: dict[str, Any]) -> Any:
    parts = [part for part in node if part != "/"]
    if not parts:
        return copy_json(node["/"])
    items = {_plain(part[1:]): node[part] for part in parts if part.startswith("#") and part != "#"}
    if "#" in parts or items:
        order = node.get("#", {}).get("/", [])
        return [_put_together(items[item]) for item in ordered([order], items)]
    return {_plain(part): _put_together(node[part]) for part in parts}


def _escaped(key: str) -> str:
    if not key:
        return "~3"
    return key.replace("~", "~0").replace("/", "~1").replace("#", "~2")


def _plain(part: str) -> str:
    if part == "~3":
        return ""
    return part.replace("~2", "#").replace("~1", "/").replace("~0", "~")


@functools.cache
def _defaults(table: str) -> Mapping[str, Any]:
    """Path and value of every field that has a default which is the same for all records."""
    if table not in KINDS:
        return {}
    record = KINDS[table]()
    moments = {name for name in vars(record) if isinstance(getattr(record, name), datetime)}
    return {
        _escaped(name): value
        for name, value in to_doc(record).items()
        if name not in moments and name not in _NEVER and name != "v"
    }
