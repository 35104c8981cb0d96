"""The schema: its steps lead to what the code expects, and the business comes first in every key."""

from pathlib import Path

from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from sqlalchemy import inspect

from mobile_app.bundle.sources import project_members
from mobile_app.hub import database
from mobile_app.hub.database import Database
from mobile_app.hub.hub import Hub
from mobile_app.hub.tables import metadata, tries


def test_the_steps_lead_to_the_tables_that_the_code_names(hub: Hub) -> None:
    with hub.database.engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []


def test_the_business_is_first_in_every_key() -> None:
    for table in metadata.sorted_tables:
        if table is not tries:  # nobody's
            assert next(iter(table.primary_key.columns)).name == "business", table.name
            unique = [c for c in table.constraints if type(c).__name__ == "UniqueConstraint"]
            assert all(next(iter(one.columns)).name == "business" for one in unique), table.name


def test_the_steps_go_back_and_may_be_taken_twice(tmp_path: Path) -> None:
    made = Database(f"sqlite:///{tmp_path / 'x.sqlite'}")
    made.upgrade()
    made.upgrade()
    config = Config()
    config.set_main_option("script_location", str(Path(database.__file__).parent / "migrations"))
    with made.engine.begin() as connection:
        config.attributes["connection"] = connection
        command.downgrade(config, "base")
    assert set(inspect(made.engine).get_table_names()) <= {"alembic_version"}
    made.close()


def test_sqlite_writes_ahead_and_waits_its_turn(hub: Hub) -> None:
    with hub.database.engine.connect() as connection:
        asked = {
            name: connection.exec_driver_sql(f"PRAGMA {name}").scalar_one()
            for name in ("journal_mode", "synchronous", "busy_timeout")
        }
    assert asked == {"journal_mode": "wal", "synchronous": 2, "busy_timeout": 15000}


def test_no_part_of_the_hub_goes_into_the_app() -> None:
    names = [member.name for member in project_members()]
    assert "mobile_app/main.py" in names
    assert [name for name in names if name.startswith(("mobile_app/hub/", "mobile_app/serve"))] == []
