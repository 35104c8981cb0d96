"""What a state shows: the document of now, where it is, and which of its fields hold more than one value."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal

from logic.records.leaves import Leaves, is_marker, is_order, items_below, ordered
from logic.sync.registers import WHOLE, Fields, Register, Vector, joined_vectors
from logic.sync.text import text_of


class _Absent:
    """The value of a field that was removed."""

    def __repr__(self) -> str:
        return "ABSENT"


ABSENT: Final = _Absent()


@dataclass(frozen=True)
class Choice:
    """One of the values that stand in a field, and who wrote it in which change; ABSENT: it was removed."""

    value: Any
    device: str
    n: int


@dataclass(frozen=True)
class Shown:
    """A record as its state shows it. `clashes`: paths at which a person has to decide."""

    where: Literal["live", "bin", "gone"]
    leaves: Leaves
    clashes: tuple[str, ...] = ()
    #: What the deletion says, when one stands.
    deleted: Mapping[str, Any] | None = None


def show(state: Mapping[str, Any], me: str = "") -> Shown:
    """What a state shows on a device. Where values stand side by side each phone goes on showing its own."""
    fields: Fields = state["fields"]
    leaves: Leaves = {}
    clashes: list[str] = []
    # Only what was let go for good leaves nothing standing: a field that was removed stands as removed.
    something = any(path != WHOLE and register["is"] for path, register in fields.items())
    for path, register in fields.items():
        if path == WHOLE or not register["is"]:
            continue
        found = choices(register, me)
        value = _merged(path, found)
        if value is not ABSENT:
            leaves[path] = value
        if len(found) > 1 and not _is_by_rule(path):
            clashes.append(path)
    clashes += _mixed(leaves)
    for path in [path for path in leaves if is_order(path)]:
        leaves[path] = ordered([leaves[path]], items_below(path, leaves))
    deletions = _deletions(fields)
    if not deletions:
        return Shown("live" if something else "gone", leaves, tuple(sorted(clashes)))
    if not something:
        return Shown("gone", {}, (), deletions[0])
    if _is_alive(fields, deletions):
        return Shown("live", leaves, (WHOLE, *sorted(clashes)), deletions[0])
    return Shown("bin", leaves, (), deletions[0])


def choices(register: Register, me: str = "") -> list[Choice]:
    """The different values that stand, that which is shown on a device first. Equal values count as one."""
    found = [
        Choice(value[1] if len(value) > 1 else ABSENT, device, value[0])
        for device, value in register["is"].items()
    ]
    if len(found) < 2:
        return found
    found.sort(key=lambda c: (c.device == me, c.value is not ABSENT, c.n, c.device), reverse=True)
    return list({_key(choice.value): choice for choice in reversed(found)}.values())[::-1]


def covers(fields: Fields) -> Vector:
    """What those who deleted the record had seen of it."""
    seen: Vector = {}
    for deletion in _deletions(fields):
        seen = joined_vectors(seen, deletion.get("covers", {}))
    return seen


def below(path: str, fields: Mapping[str, Any]) -> list[str]:
    """The paths that lie below a path."""
    return [other for other in fields if other.startswith(f"{path}/")]


def _is_by_rule(path: str) -> bool:
    """True where differing values are put together by rule, and nobody needs to be asked."""
    return path == "v" or is_order(path)


def _merged(path: str, found: list[Choice]) -> Any:
    if len(found) > 1 and is_order(path):
        orders = [choice.value for choice in found if isinstance(choice.value, list)]
        return list(dict.fromkeys(str(item) for order in orders for item in order))
    if len(found) > 1 and path == "v":
        return max(
            (choice.value for choice in found if isinstance(choice.value, int)), default=found[0].value
        )
    return found[0].value


def _mixed(leaves: Leaves) -> list[str]:
    """Paths where one phone has one value, and another something with parts."""
    parents = {
        path[:at] for path in leaves for at, sign in enumerate(path) if sign == "/" and path[:at] in leaves
    }
    for path in parents:
        if is_marker(leaves[path]):
            del leaves[path]
    return [path for path in parents if path in leaves]


def _deletions(fields: Fields) -> list[Mapping[str, Any]]:
    register = fields.get(WHOLE)
    found = choices(register) if register else []
    return [choice.value for choice in found if isinstance(choice.value, Mapping)]


def _is_alive(fields: Fields, deletions: list[Mapping[str, Any]]) -> bool:
    """True when somebody changed the record, or brought it back, without knowing of the deletion."""
    if len(choices(fields[WHOLE])) > len(deletions):
        return True
    seen = covers(fields)
    return any(
        value[0] > seen.get(device, 0)
        for path, register in fields.items()
        if path != WHOLE
        for device, value in register["is"].items()
    )


def _key(value: Any) -> str:
    return "" if value is ABSENT else text_of(value)
