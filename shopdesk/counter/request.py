"""The shop that a request works with, its settings, and the branch it asks about."""

from collections.abc import Iterable
from typing import Any, TypeVar, cast

from flask import Flask, current_app, g, request
from sqlalchemy import Engine

from shopdesk.counter.refusals import counter_language, refuse_page
from shopdesk.craft.messages import message
from shopdesk.services.branches import BranchName, list_branches
from shopdesk.shop.location import CounterBranch
from shopdesk.shop.shop import Shop
from shopdesk.store.settings import ShopSettings
from shopdesk.wording.formatting import ReaderPreferences

_ENGINE = "shopdesk"


def open_for(app: Flask, engine: Engine) -> None:
    """Gives the application its shelf."""
    app.extensions[_ENGINE] = engine


def engine() -> Engine:
    """Returns the engine of the application that serves this request."""
    return cast(Engine, current_app.extensions[_ENGINE])


def shop() -> Shop:
    """Returns the shop that this request works with, as asked from this counter's branch."""
    return Shop(engine(), own_branch(), known_settings=settings)


def settings() -> ShopSettings:
    """Returns the shop's settings as they were at the request's first look."""
    if "settings" not in g:
        g.settings = Shop(engine()).settings()
    return cast(ShopSettings, g.settings)


def counter_reader() -> ReaderPreferences:
    """Returns how the counter speaks to staff: its own language, the shop's units and money."""
    if "counter_reader" not in g:
        reader, own = settings().reader(), settings().reader(counter_language())
        g.counter_reader = reader if reader.texts == own.texts else own
    return cast(ReaderPreferences, g.counter_reader)


_BRANCH = "shopdesk_branch"
Item = TypeVar("Item")


def stand_in(app: Flask, branch: CounterBranch) -> None:
    """Tells the application where its branch is kept, and templates how to ask."""
    app.extensions[_BRANCH] = branch
    app.jinja_env.globals.update(
        branch_name=branch_name, other_branch=other_branch, own_branch=own_branch
    )
    app.jinja_env.filters.update(own_first=own_first)


def kept_branch() -> CounterBranch:
    """Returns where this counter's branch is kept."""
    return cast(CounterBranch, current_app.extensions[_BRANCH])


def known_branches() -> tuple[BranchName, ...]:
    """Returns the house's branches as they were at the request's first look."""
    if "branches" not in g:
        g.branches = list_branches(Shop(engine()))
    return cast(tuple[BranchName, ...], g.branches)


def own_branch() -> str:
    """Returns this counter's branch; the first one if the kept one is no branch of the house."""
    if "own_branch" not in g:
        kept = kept_branch().code()
        known = any(one.code == kept for one in known_branches())
        g.own_branch = kept if known else CounterBranch().code()
    return cast(str, g.own_branch)


def asked_branch() -> str:
    """Returns the branch of `?branch=`, or else this counter's; 404 for one that is not there."""
    asked = request.args.get("branch") or own_branch()
    if all(one.code != asked for one in known_branches()):
        refuse_page(404, message("problem_page.no_branch"))
    return asked


def other_branch(code: str | None = None) -> str | None:
    """Returns a branch (None: the one asked for) as an address needs it: None for the own one."""
    wanted = code or asked_branch()
    return None if wanted == own_branch() else wanted


def branch_name(code: str) -> str:
    """Returns what people call a branch."""
    return next((one.shown for one in known_branches() if one.code == code), code)


def own_first(things: Iterable[Item]) -> list[Item]:
    """Returns what lies in this counter's branch before all else, in the order that it was."""
    own = own_branch()
    return sorted(things, key=lambda thing: _branch_of(thing) != own)


def _branch_of(thing: Any) -> str:
    while not hasattr(thing, "branch"):
        thing = thing.where if hasattr(thing, "where") else thing.lot
    return str(thing.branch)
