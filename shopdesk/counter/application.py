"""Makes the counter's web application."""

from collections.abc import Iterable

from flask import Flask, request
from sqlalchemy import Engine

from shopdesk.bundled import bundled
from shopdesk.counter import errors, security, template_tools
from shopdesk.counter.access import StaffAccess, guard
from shopdesk.counter.request import open_for, stand_in
from shopdesk.counter.views import BLUEPRINTS
from shopdesk.counter.views.signing import page_for_what_was_sent
from shopdesk.shop.location import CounterBranch

BIGGEST_REQUEST = 2 * 1024 * 1024
BIGGEST_UPLOAD = 32 * 1024 * 1024
UPLOADS = ("importing.upload", "reading_pattern.read")
MOST_BOXES = 1500


def create_app(
    engine: Engine,
    secret_key: bytes,
    *,
    allowed_hosts: Iterable[str] = security.LOOPBACK_HOSTS,
    over_tls: bool = False,
    door: StaffAccess | None = None,
    branch: CounterBranch | None = None,
) -> Flask:
    """Returns the application on one shelf.

    `secret_key` signs cookies and form tokens; `allowed_hosts` are the names it may be called by;
    `over_tls` marks the cookies Secure; `door` keeps out who is not signed in, if there is one;
    `branch` is where the counter stands.
    """
    app = errors.CounterApp(
        "shopdesk",
        template_folder=str(bundled("templates")),
        static_folder=str(bundled("static")),
        instance_path=str(bundled("static")),
    )
    app.config.update(
        SECRET_KEY=secret_key,
        MAX_CONTENT_LENGTH=BIGGEST_REQUEST,
        MAX_FORM_MEMORY_SIZE=BIGGEST_REQUEST,
        MAX_FORM_PARTS=MOST_BOXES,
    )
    app.before_request(_make_room)
    open_for(app, engine)
    stand_in(app, branch or CounterBranch())
    security.refuse_strangers(app, tuple(allowed_hosts))
    guard(app, door, page_for_what_was_sent)
    security.protect(app, over_tls=over_tls)
    errors.register(app)
    _add_pages(app)
    return app


def _add_pages(app: Flask) -> None:
    template_tools.register(app)
    for blueprint in BLUEPRINTS:
        app.register_blueprint(blueprint)


def _make_room() -> None:
    """Lets the one form that takes files be bigger than the others."""
    if request.endpoint in UPLOADS:
        request.max_content_length = BIGGEST_UPLOAD
