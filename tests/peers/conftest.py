"""A PostgreSQL for the tests of this folder, started when one of them asks for it."""

from collections.abc import Iterator

import pytest

from tests.hub.postgres import Postgres


@pytest.fixture(scope="session")
def postgres() -> Iterator[Postgres]:
    """A PostgreSQL server of the tests' own."""
    server = Postgres()
    yield server
    server.stop()
