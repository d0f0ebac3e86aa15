"""Signing in and out."""

from flask import Blueprint, abort, current_app, redirect, render_template, request, url_for
from flask_wtf.csrf import validate_csrf
from werkzeug.datastructures import MultiDict
from werkzeug.wrappers import Response
from wtforms import ValidationError

from shopdesk.counter import access
from shopdesk.counter.forms.shop_forms import SigningForm
from shopdesk.counter.refusals import refuse_box, said_alone
from shopdesk.craft.messages import message

pages = Blueprint("signing", __name__)

_ENDED = message("problem_page.signed_out")


@pages.get("/sign-in")
def sign_in() -> str:
    """Shows the form; `?back=` is where to go on."""
    return _page(SigningForm(MultiDict({"back": request.args.get("back", "")})))


@pages.post("/sign-in")
def enter() -> Response | str | tuple[str, int] | tuple[str, int, dict[str, str]]:
    """Signs in and goes on, or says that the passphrase is wrong or how long to wait."""
    door, form = access.staff_access(), SigningForm()
    if door is None:
        abort(404)
    found = door.enter(form.passphrase.data or "", request.remote_addr or "")
    if isinstance(found, int):
        current_app.logger.warning("A try to sign in was refused")
        if found:
            wait = message("problem_form.wait", count=found)
            refuse_box(form.passphrase, message("problem_form.wrong_too_often"), wait)
            return _page(form), 429, {"Retry-After": str(found)}
        wrong, right = message("problem_form.passphrase"), message("problem_form.try_again")
        refuse_box(form.passphrase, wrong, right)
        return _page(form), 422
    access.remember(found)
    back, kept = access.path_within(form.back.data or "/"), form.kept()
    if kept:
        return render_template("signed_in.html", back=back, kept=kept)
    return redirect(back, 303)


@pages.post("/sign-out")
def leave() -> Response:
    """Ends the session, here and on the server."""
    door = access.staff_access()
    if door is not None:
        door.leave(access.token())
    access.remember(None)
    return redirect(url_for("signing.sign_in"), 303)


def page_for_what_was_sent() -> tuple[str, int]:
    """Returns the form to sign in, with what was typed into a page whose session has ended."""
    form = SigningForm(MultiDict({"back": request.full_path.rstrip("?")}))
    if not _from_our_own_page():
        form.back.data = "/"
        return _page(form), 401
    form.keep(request.form.items(multi=True))
    return _page(form, said_alone(_ENDED)), 401


def _from_our_own_page() -> bool:
    try:
        validate_csrf(request.form.get("csrf_token"))
    except ValidationError:
        return False
    return True


def _page(form: SigningForm, told: str = "") -> str:
    return render_template("sign_in.html", form=form, told=told)
