"""Alembic's steps from one schema to the next; `database.Database.upgrade` runs them."""
