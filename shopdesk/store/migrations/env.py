"""What Alembic runs: the steps, in the one transaction of the connection that it is given."""

from alembic import context
from sqlalchemy import Connection

from shopdesk.store.models import Base


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
    from shopdesk.store.database import open_shelf
    from shopdesk.store.upgrading import migrating

    address = context.config.get_main_option("sqlalchemy.url")
    if not address:
        raise ValueError("sqlalchemy.url is not set; give the address of the database")
    with migrating(open_shelf(address)) as connection:
        run(connection)
else:
    run(given)
