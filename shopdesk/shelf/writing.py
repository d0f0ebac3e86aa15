"""Writing sessions: what is kept beside a yarn changes with it, in the same transaction."""

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import Engine
from sqlalchemy.orm import Session

from shopdesk.store.database import WRITES


@contextmanager
def writing(engine: Engine) -> Iterator[Session]:
    """Gives a session whose work is kept as a whole at the end, or not at all on an error.

    All tables are known to it, so that what is kept beside a yarn changes with the yarn.
    """
    from shopdesk.shelf.index_keeping import keep_beside_yarns

    keep_beside_yarns()
    writer = engine.execution_options(**{WRITES: True})
    with Session(writer, expire_on_commit=False) as session, session.begin():
        yield session
