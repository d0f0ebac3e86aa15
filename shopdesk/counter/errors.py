"""Pages for what goes wrong, in plain words; the details go to the log, never to a user."""

import logging
import traceback

from flask import Flask, render_template, request
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException

from shopdesk.counter.refusals import heading, said_alone
from shopdesk.craft.messages import message
from shopdesk.shop.passphrase import PassphraseDamaged
from shopdesk.store.faults import ShelfFault

LOG = logging.getLogger(__name__)

STALE_PAGE = message("problem_page.stale")
_OUR_SIDE = (message("problem_page.our_side"), message("problem_page.in_the_log"))
_UNREADABLE = (message("problem_page.unreadable"), message("problem_page.go_back_once_more"))
PAGES = {
    400: _UNREADABLE,
    403: (message("problem_page.not_allowed"), message("problem_page.to_the_counter")),
    404: (message("problem_page.no_page"), message("problem_page.check_address")),
    405: (message("problem_page.not_that_way"), message("problem_page.start_again")),
    409: (message("problem_page.somebody_quicker"), message("problem_page.decide_anew")),
    413: (message("problem_page.too_much"), message("problem_page.send_less")),
    415: (message("problem_page.kind_of_file"), message("problem_page.another_form")),
    422: (message("problem_page.form_not_right"), message("problem_page.correct_it")),
    429: (message("problem_page.too_many_tries"), message("problem_page.wait_a_minute")),
    500: _OUR_SIDE,
    503: (message("problem_page.no_shelf"), message("problem_page.in_a_moment")),
}
"""What the page of an HTTP status says at its head, and what it advises."""


class CounterApp(Flask):
    """Flask, but what goes wrong while a failure is being told is told as well."""

    def handle_user_exception(self, e: Exception) -> HTTPException | ResponseReturnValue:
        """Returns the page for an error, or for the error that making that page ran into."""
        try:
            return super().handle_user_exception(e)
        except Exception as inner:
            if inner is e:
                raise
            return super().handle_user_exception(inner)


def register(app: Flask) -> None:
    """Answers every failure with a page of its own."""
    app.register_error_handler(HTTPException, _on_http_error)
    app.register_error_handler(CSRFError, _on_stale_form)
    app.register_error_handler(ShelfFault, _on_shelf_fault)
    app.register_error_handler(PassphraseDamaged, _on_shelf_fault)
    app.register_error_handler(Exception, _on_fault)


def problem_page(code: int, detail: str = "") -> tuple[str, int]:
    """Returns the page for an HTTP status and the status."""
    found = PAGES.get(code, _OUR_SIDE if code >= 500 else _UNREADABLE)
    head, advice = heading(found[0]), said_alone(found[1])
    page = render_template("problem.html", heading=head, advice=advice, detail=detail)
    return page, code


def _on_http_error(error: HTTPException) -> ResponseReturnValue:
    if error.code is None or error.code < 400:
        return error.get_response()
    detail = error.description if error.description != type(error).description else ""
    page, code = problem_page(error.code, detail or "")
    methods = getattr(error, "valid_methods", None)
    return page, code, {"Allow": ", ".join(sorted(methods))} if methods else {}


def _on_stale_form(error: CSRFError) -> ResponseReturnValue:
    return problem_page(400, said_alone(message("problem_page.stale_form")))


def _on_shelf_fault(error: ShelfFault | PassphraseDamaged) -> ResponseReturnValue:
    _log(error)
    return problem_page(503, str(error))


def _on_fault(error: Exception) -> ResponseReturnValue:
    _log(error)
    return problem_page(500)


def _log(error: Exception) -> None:
    """Logs where a fault happened, without the values, which may be a customer's."""
    where = "".join(traceback.format_tb(error.__traceback__))
    known = {"fault": error, "endpoint": request.endpoint}
    LOG.error("%s at %s\n%s", type(error).__name__, request.endpoint, where, extra=known)
