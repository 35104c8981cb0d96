"""A hub on SQLite in a folder of its own, and the web that leads to it."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from mobile_app.hub.database import Database
from mobile_app.hub.hub import Hub, Settings, open_hub
from mobile_app.hub.offices import make_business
from mobile_app.hub.service import service
from mobile_app.hub.smtp import Result
from tests.hub.phones import Phone, web_of


@pytest.fixture(scope="session")
def empty_hub(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The database of a hub that has its tables and nothing in them, to be copied."""
    file = tmp_path_factory.mktemp("hub") / "empty.sqlite"
    made = Database(f"sqlite:///{file}")
    made.upgrade()
    made.close()
    return file


@pytest.fixture
def hub(tmp_path: Path, empty_hub: Path) -> Iterator[Hub]:
    """A hub with one business, whose mail goes nowhere."""
    shutil.copy(empty_hub, tmp_path / "hub.sqlite")
    made = open_hub(Settings(f"sqlite:///{tmp_path / 'hub.sqlite'}", origins=("https://app.example.com",)))
    made.outbox.hand_over = lambda server, message, to: Result("sent", "250 kept nowhere")
    make_business(made.database, "Cobb & Daughter")
    yield made
    made.database.close()


@pytest.fixture
def business(hub: Hub) -> str:
    """The id of the hub's one business."""
    return hub.database.all_businesses()[0]


@pytest.fixture
def web(hub: Hub) -> httpx.Client:
    """The hub's web service, without its sender of mail."""
    return web_of(service(hub))


@pytest.fixture
def office(web: httpx.Client, hub: Hub, business: str) -> Phone:
    """A phone that runs the office."""
    return Phone.paired(web, hub.database, business, admin=True)


@pytest.fixture
def phone(web: httpx.Client, hub: Hub, business: str) -> Phone:
    """A phone that does not."""
    return Phone.paired(web, hub.database, business)
