"""What Alembic runs: the steps, in the one transaction of the connection that it is given."""

from alembic import context
from sqlalchemy import Connection

from shopdesk.shelf.models import Base


def run(connection: Connection) -> None:
    """Runs the steps asked for on a connection whose transaction the caller commits."""
    context.configure(
        connection=connection,
        target_metadata=Base.metadata,
        render_as_batch=True,
        transactional_ddl=True,
        compare_type=True,
    )
    with context.begin_transaction():
        context.run_migrations()


given = context.config.attributes.get("connection")
if given is None:
    from shopdesk.shelf.upgrading import migrating, open_developers_shelf

    with migrating(open_developers_shelf()) as connection:
        run(connection)
else:
    run(given)
