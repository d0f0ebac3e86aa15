"""The page of the shop's settings; and whether the counter works, for a program that watches it."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from shopdesk.counter.forms.shop_forms import SettingsForm
from shopdesk.counter.refusals import refuse_page, said_alone, show_problems
from shopdesk.counter.request import branch_name, kept_branch, known_branches, shop
from shopdesk.counter.request import settings as present
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.services.setting_changes import SettingsChanged, fingerprint, save_settings
from shopdesk.shop.location import CounterBranchRefused
from shopdesk.store.faults import ShelfFault

pages = Blueprint("settings", __name__)
health_pages = Blueprint("health", __name__)

CHANGED_MEANWHILE = message("problem_page.settings_changed")


@pages.get("/settings")
def settings() -> str:
    """Shows the settings as they are."""
    return _page(SettingsForm(formdata=None, data=_as_held()))


@pages.post("/settings")
def save() -> Response | tuple[str, int]:
    """Saves the settings, unless one cannot be or somebody else changed them meanwhile."""
    form = SettingsForm()
    try:
        save_settings(shop(), form.texts(), str(form.seen.data))
    except SettingsChanged as changed:
        form.seen.data = changed.seen
        return _page(form, [said_alone(CHANGED_MEANWHILE)]), 409
    except InputError as refusal:
        return _page(form, show_problems(form, refusal.problems)), 422
    flash("The settings are saved.")
    return redirect(url_for("settings.settings"), 303)


@pages.post("/settings/counter")
def stand() -> Response:
    """Moves this counter to another branch."""
    wanted = request.form.get("counter_branch", "")
    if all(one.code != wanted for one in known_branches()):
        refuse_page(400, message("problem_page.no_branch"))
    try:
        kept_branch().keep(wanted)
    except CounterBranchRefused as refusal:
        refuse_page(409, refusal)
    flash(f"This counter stands in {branch_name(wanted)} now.")
    return redirect(url_for("settings.settings"), 303)


def _as_held() -> dict[str, str]:
    held = present()
    return {**held.texts(), "seen": fingerprint(held)}


def _page(form: SettingsForm, form_errors: list[str] | None = None) -> str:
    boxes = [field for field in form if field.name != "csrf_token"]
    return render_template(
        "settings.html",
        form=form,
        boxes=boxes,
        form_errors=form_errors or [],
        branches=known_branches(),
    )


@health_pages.get("/health")
def health() -> tuple[dict[str, str], int]:
    """Returns 200 while the shelf can be read, else 503."""
    try:
        present()
    except ShelfFault:
        return {"status": "the shelf cannot be read"}, 503
    return {"status": "ok"}, 200
