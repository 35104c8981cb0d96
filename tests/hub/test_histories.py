"""Random histories of phones on a network that lies, with the real hub over ASGI as their office."""

from __future__ import annotations

import random
from collections.abc import Callable
from urllib.parse import urlencode

import httpx
import pytest

from logic.sync.calls import Request, Response
from logic.sync.registers import key_of
from logic.sync.text import text_of
from mobile_app.hub.devices import new_code, pair
from mobile_app.hub.hub import Hub
from mobile_app.hub.log import DatabaseLog
from tests.logic.sync.simulator import FATES, World
from tests.logic.sync.steps import history


class WebHub:
    """The hub as the simulator wants an office: requests in, answers out; `log` to look at its states."""

    def __init__(self, hub: Hub, web: httpx.Client, business: str) -> None:
        self._hub, self._web, self._business = hub, web, business
        self.log = self

    def answer(self, request: Request) -> Response:
        url = f"/api{request.path}?{urlencode(request.query)}"
        headers = dict(request.headers)
        answer = self._web.request(request.method, url, headers=headers, content=request.body)
        return Response(answer.status_code, answer.content, dict(answer.headers))

    def state_hashes(self) -> dict[tuple[str, str], str]:
        """Every record's state as text."""
        with self._hub.database.tenant(self._business) as connection:
            log = DatabaseLog(connection, self._business)
            return {key_of(state): text_of(state) for state in log.records(None, 10_000, None)}

    def join(self, world: World, name: str) -> None:
        """A new phone, paired with the hub."""
        device, token = pair(self._hub.database, new_code(self._hub.database, self._business)[0], name)
        phone = world.phone(name, paired=False)
        phone.token = token
        phone.kill()  # starts with its token
        phone.ledger.pair({"token": token, "device": device.device, "name": "Cobb & Daughter"})


@pytest.mark.parametrize("seed", range(1, 13))
def test_phones_over_the_real_hub_agree_and_lose_nothing(
    seed: int, hub: Hub, web: httpx.Client, business: str
) -> None:
    world = World(seed, WebHub(hub, web, business))
    fate = random.Random(seed)
    fates: Callable[[], str] = lambda: fate.choice(FATES) if fate.random() < 0.3 else "arrives"  # noqa: E731
    world.fates = fates
    for name in ("ann", "bob"):
        world.hub.join(world, name)
    told: list[str] = []
    try:
        for step in history(world, 16, but=("office",)):
            told.append(step)
        world.settle()
        world.check()
    except Exception as error:
        error.add_note(f"seed {seed}: {told}")
        raise
