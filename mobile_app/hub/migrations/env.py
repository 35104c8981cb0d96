"""Runs the steps on the connection that the hub hands over, in its transaction."""

from alembic import context

from mobile_app.hub.tables import metadata

context.configure(
    connection=context.config.attributes["connection"], target_metadata=metadata, render_as_batch=True
)
context.run_migrations()
