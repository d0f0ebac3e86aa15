"""Pages for what goes wrong, in plain words; the details go to the log, never to a user."""

import logging
import traceback

from flask import Flask, render_template, request
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException

from shopdesk.shop.passphrase import PassphraseRefused
from shopdesk.store.faults import ShelfFault

LOG = logging.getLogger(__name__)

STALE_PAGE = "This page was open since before the program was last started; press the button again."
WORDS = {
    400: ("This request could not be read", "Go back and try once more."),
    403: ("This is not allowed here", "Go back to the counter."),
    404: ("There is no such page", "Check the address, or start again at the counter."),
    405: ("This page cannot be used in that way", "Start again at the counter."),
    409: ("Somebody else was quicker", "Look at the page again and decide anew."),
    413: ("That was too much at once", "Send less text or a smaller file."),
    415: ("This kind of file cannot be read", "Send it in another form."),
    422: ("Something in the form is not right", "Go back and correct it."),
    429: ("Too many tries", "Wait a minute and try again."),
    500: ("Something went wrong on our side", "Nothing was changed. The details are in the log."),
    503: ("The shelf cannot be reached", "Nothing was changed. Try again in a moment."),
}


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
    app.register_error_handler(PassphraseRefused, _on_shelf_fault)
    app.register_error_handler(Exception, _on_fault)


def problem_page(code: int, detail: str = "") -> tuple[str, int]:
    """Returns the page for an HTTP status and the status."""
    heading, advice = WORDS.get(code, WORDS[500] if code >= 500 else WORDS[400])
    page = render_template("problem.html", heading=heading, advice=advice, detail=detail)
    return page, code


def _on_http_error(error: HTTPException) -> ResponseReturnValue:
    if error.code is None or error.code < 400:
        return error.get_response()
    detail = error.description if error.description != type(error).description else ""
    page, code = problem_page(error.code, detail or "")
    methods = getattr(error, "valid_methods", None)
    return page, code, {"Allow": ", ".join(sorted(methods))} if methods else {}


def _on_stale_form(error: CSRFError) -> ResponseReturnValue:
    return problem_page(
        400, "The page you sent was made before the program was last started, or in another window."
    )


def _on_shelf_fault(error: ShelfFault | PassphraseRefused) -> ResponseReturnValue:
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
