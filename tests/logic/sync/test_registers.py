"""The laws of joining, and that documents come back from their leaves and states as they were."""

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from logic.records.documents import to_doc
from logic.records.leaves import all_leaves, doc_of, leaves_of
from logic.records.types import KINDS
from logic.sync.packing import pack, unpack
from logic.sync.registers import join_record, moved, record_hash
from logic.sync.shown import show
from logic.sync.text import text_of
from tests.logic.records.build import client, sward, visit

DEVICES = ("ann", "bob", "cyd")
VECTORS = st.dictionaries(st.sampled_from(DEVICES), st.integers(1, 6), max_size=3)


@st.composite
def states(draw: st.DrawFn) -> dict[str, Any]:
    """A state in which a dot has always the same value, as it has in every real one."""
    fields: dict[str, Any] = {}
    for path in draw(st.lists(st.sampled_from(["", "note", "name", "outline/method"]), unique=True)):
        at, dots = draw(VECTORS), draw(VECTORS)
        standing = {d: [n, f"{path}{d}{n}"] for d, n in dots.items() if n > at.get(d, 0)}
        fields[path] = {"at": at, "is": standing}
    made = {"table": "clients", "id": "c1", "fields": fields}
    erased = draw(VECTORS)
    return {**made, "erased": erased} if erased and draw(st.booleans()) else made


def same(a: dict[str, Any], b: dict[str, Any]) -> bool:
    return text_of(a) == text_of(b)


@settings(max_examples=150)
@given(states(), states(), states())
def test_joining_knows_no_order_and_no_repetition(a: Any, b: Any, c: Any) -> None:
    assert same(join_record(a, b), join_record(b, a))
    assert same(join_record(join_record(a, b), c), join_record(a, join_record(b, c)))
    both = join_record(a, b)
    assert same(join_record(both, b), both)
    assert same(join_record(both, both), both)


@given(states(), states())
def test_the_sum_of_a_bucket_follows_its_records(a: Any, b: Any) -> None:
    total = moved(moved(0, None, a), a, b)
    assert total == record_hash(b)
    assert moved(total, b, None) == 0


KEYS = st.text(max_size=4) | st.sampled_from(["a/b", "#", "~0", "#1", "id"])
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3),
    max_leaves=12,
)
ITEMS = st.lists(st.fixed_dictionaries({"id": st.text(min_size=1, max_size=3), "x": VALUES}), max_size=3)


@settings(max_examples=200)
@given(st.dictionaries(KEYS.filter(lambda key: key not in ("id", "changed", "")), VALUES | ITEMS, max_size=4))
def test_a_document_comes_back_from_its_leaves(doc: dict[str, Any]) -> None:
    assert text_of(doc_of(all_leaves("things", doc))) == text_of(doc)


def test_every_record_comes_back_from_its_state() -> None:
    for record in (client(), sward(client()), visit(sward(client())), *(kind() for kind in KINDS.values())):
        doc = to_doc(record)
        key = (record.table, record.id)
        fields = {path: {"at": {}, "is": {"ann": [1, v]}} for path, v in leaves_of(record.table, doc).items()}
        state = {"table": key[0], "id": key[1], "fields": fields}
        packed = pack(state, show(state), all_leaves(record.table, doc))
        assert packed["more"] == {}  # nothing is kept twice
        assert same(unpack(key, packed, all_leaves(record.table, doc)), state)
