"""Random histories against the real hub whose operator backs up, restores and lets go of old changes."""

import itertools
import random
import shutil
from pathlib import Path

import pytest
from sqlalchemy import insert, select

from logic.sync.calls import Request, Response
from logic.sync.registers import Key
from mobile_app.hub import backup, devices, offices, tables
from mobile_app.hub.hub import Hub, Settings, open_hub
from mobile_app.hub.service import service
from mobile_app.hub.trim import trim
from tests.hub.phones import web_of
from tests.logic.sync.simulator import FATES, World
from tests.logic.sync.steps import history

NAMES = ("a" * 12, "b" * 12, "c" * 12)


class RealHub:
    """The office of a World: requests go over ASGI, operators' commands are the real ones."""

    def __init__(self, place: Path, empty: Path) -> None:
        self._place, self._empty, self._count = place, empty, itertools.count()
        self._use(self._new())
        self.business = offices.make_business(self._hub.database, "Fen Turf")
        self._tokens = {name: self._pair(name) for name in NAMES}
        self.log = self
        self.restores = 0

    def answer(self, request: Request) -> Response:
        name = request.headers["Authorization"].removeprefix("Bearer ")
        headers = {**request.headers, "Authorization": f"Bearer {self._tokens[name]}"}
        asked = {"params": dict(request.query), "headers": headers, "content": request.body}
        said = self._web.request(request.method, f"/api{request.path}", **asked)
        return Response(said.status_code, said.content, {k.lower(): v for k, v in said.headers.items()})

    def backup(self) -> Path:
        file = self._place / f"{next(self._count)}.zip"
        backup.back_up(self._hub.database, self._hub.blobs.kept, file)
        return file

    def restore(self, file: Path) -> None:
        self.restores += 1
        new = self._new()
        backup.restore(new.database, new.blobs.kept, file)
        self._hub.database.close()
        self._use(new)

    def drop_log(self) -> None:
        trim(self._hub.database, self.business, days=-1)

    def state_hashes(self) -> dict[Key, str]:
        """Every record's state as text, as the database has it."""
        with self._hub.database.tenant(self.business) as connection:
            rows = connection.execute(select(tables.records)).all()
        return {(row.kind, row.record): row.state for row in rows}

    def close(self) -> None:
        self._hub.database.close()

    def _new(self) -> Hub:
        file = self._place / f"{next(self._count)}.sqlite"
        shutil.copy(self._empty, file)
        return open_hub(Settings(f"sqlite:///{file}"))

    def _use(self, hub: Hub) -> None:
        self._hub, self._web = hub, web_of(service(hub))

    def _pair(self, name: str) -> str:
        """Pairs a phone, gives it the id that the world knows it by, and returns its token."""
        code, _ = devices.new_code(self._hub.database, self.business)
        device, token = devices.pair(self._hub.database, code, name)
        table = tables.devices
        with self._hub.database.tenant(self.business, write=True) as connection:
            row = connection.execute(select(table).where(table.c.device == device.device)).mappings().one()
            connection.execute(insert(table).values({**row, "device": name}))
        return token.replace(device.device, name)


@pytest.mark.parametrize("seed", range(6))
def test_phones_agree_and_lose_nothing_whatever_the_operator_does(
    seed: int, tmp_path: Path, empty_hub: Path
) -> None:
    hub = RealHub(tmp_path, empty_hub)
    world = World(seed, hub)
    fate = random.Random(seed + 1)
    quality = (0.0, 0.4, 0.7)[seed % 3]
    world.fates = lambda: fate.choice(FATES) if fate.random() < quality else "arrives"
    for name in NAMES[: 2 + seed % 2]:
        world.phone(name, skew=fate.choice((0, 86400, -86400)))
    told = list(history(world, 12))
    kept = hub.backup()
    told += history(world, 12)
    hub.restore(kept)
    world.settle()
    world.check()
    assert hub.restores >= 1
    assert len(hub.state_hashes()) > 1, told
    hub.close()
