"""What may happen in a world of phones and an office, and random histories made of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import timedelta

from logic.errors import Conflict
from logic.records.types import Client, Sward, Visit
from tests.logic.sync.simulator import FIELDS, Phone, World


def history(world: World, steps: int, but: tuple[str, ...] = ()) -> Iterator[str]:
    """A random history on a world with phones that begin with a green in common; every step is named."""
    chance = world.chance
    phones = list(world.phones.values())
    weights = {name: weight for name, (weight, _) in STEPS.items() if name not in but}
    weights["undo"] *= world.seed % 3 == 0
    fates, world.fates = world.fates, lambda: "arrives"
    first = phones[0]
    client = first.add(Client(id=world.id(), name="Ada Fen", note=world.value()))
    first.add(Sward(id=world.id(), name="Back green", client_id=client.id))
    for phone in phones:
        assert phone.sync()
    world.fates = fates
    for _ in range(steps):
        phone, number = chance.choice(phones), chance.randrange(10**6)
        name = chance.choices(tuple(weights), weights=list(weights.values()))[0]
        world.seen[name] += 1
        STEPS[name][1](world, phone, number)
        world.now += timedelta(seconds=chance.choice((1, 30, 500)))
        yield f"{phone.name} {name} {number}"


def _new(world: World, phone: Phone, number: int) -> None:
    clients, swards = phone.book.all(Client), phone.book.all(Sward)
    if number % 3 == 0 or not clients:
        phone.add(Client(id=world.id(), name="Ada Fen", note=world.value()))
    elif number % 3 == 1 or not swards:
        phone.add(Sward(id=world.id(), name="Back green", client_id=clients[number % len(clients)].id))
    else:
        phone.add(Visit(id=world.id(), sward_id=swards[number % len(swards)].id, notes=world.value()))


def _edit(world: World, phone: Phone, number: int) -> None:
    shared = phone.book.all(Sward)[:1]
    record = shared[0] if shared and number % 2 else phone.pick(number)
    if record:
        names = FIELDS[type(record)]
        phone.edit(record, names[number // 11 % 5 == 0])


def _delete(world: World, phone: Phone, number: int) -> None:
    if record := phone.pick(number):
        phone.book.delete(record)


def _restore(world: World, phone: Phone, number: int) -> None:
    binned = phone.book.bin()
    if binned:
        try:
            phone.book.restore(binned[number % len(binned)].id)
        except Conflict:
            assert binned


def _empty(world: World, phone: Phone, number: int) -> None:
    binned = phone.book.bin()
    if binned and number % 4 == 0:
        phone.book.empty_bin(binned[number % len(binned)].id)


def _office(world: World, phone: Phone, number: int) -> None:
    """What an operator does: a backup, its restore, old changes let go."""
    what = number % 4
    if what == 0 or world.kept is None:
        world.kept = world.hub.backup()
    elif what == 1:
        world.seen["restores"] += 1
        world.hub.restore(world.kept)
    elif what == 2:
        world.hub.log.drop_log()


STEPS: dict[str, tuple[int, Callable[[World, Phone, int], None]]] = {
    "new": (2, _new),
    "edit": (12, _edit),
    "delete": (1, _delete),
    "restore": (1, _restore),
    "empty": (1, _empty),
    "decide": (3, lambda world, phone, number: phone.decide(number)),
    "sync": (8, lambda world, phone, number: phone.sync() and None),
    "begin": (3, lambda world, phone, number: phone.begin()),
    "step": (6, lambda world, phone, number: phone.step() and None),
    "kill": (1, lambda world, phone, number: phone.kill(number)),
    "undo": (2, lambda world, phone, number: phone.undo()),
    "office": (1, _office),
    "late": (1, lambda world, phone, number: world.deliver_late()),
}
