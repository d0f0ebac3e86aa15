"""What the verbs that work in a shop share: their options, the shop, and a lot as a document."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import cache
from typing import Any

import click

from shopdesk.craft.errors import InputError, InputErrors, Problem
from shopdesk.craft.messages import Message
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shop.location import CounterBranch, find_place
from shopdesk.shop.shop import Shop, opened_shop
from shopdesk.terminal.boundary import SPOKEN
from shopdesk.wording.formatting import LANGUAGES


def _spoken(ctx: click.Context, _option: click.Parameter, chosen: str | None) -> str | None:
    ctx.meta[SPOKEN] = chosen
    return chosen


# Eager, so that it is known when another option is refused.
language_option = click.option(
    "--language",
    type=click.Choice(LANGUAGES),
    is_eager=True,
    callback=_spoken,
    help="The language of the sentences. Default: the shop's own.",
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON.")
staff_option = click.option("--staff", default="", help="Who does it.")


def _own_branch(ctx: click.Context, _option: click.Parameter, typed: str | None) -> str:
    return typed or CounterBranch(find_place(ctx.obj).folder).code()


branch_option = click.option(
    "--branch", callback=_own_branch, help="The branch, by its code. Default: this counter's."
)


def option_refused(option: str, wrong: Message, right: Message | None = None) -> InputErrors:
    """Returns what is wrong with an option, to be raised: its line begins with the option."""
    return InputErrors((Problem((option,), wrong, right),))


def refused_in(option: str, refusal: InputError) -> InputErrors:
    """Returns what a reader refused as wrong with the option that it was read from."""
    return InputErrors(replace(one, path=(option,)) for one in refusal.problems)


@contextmanager
def naming_options(**spelled: str) -> Iterator[None]:
    """Lets what is wrong with a request's fields be told of the command's options.

    A field's option is spelled as the field is, unless `spelled` says otherwise.
    """
    try:
        yield
    except InputErrors as refusal:
        raise InputErrors(
            replace(one, path=(spelled.get(one.place) or _option(one.place),))
            for one in refusal.problems
        ) from None


def _option(field: str) -> str:
    return "--" + field.replace("_", "-")


@contextmanager
def the_shop(data: str | None, branch: str | None = None) -> Iterator[Shop]:
    """Gives the shop that a verb works with, as asked from a branch; None is the counter's own.

    Its settings are those of the verb's first look.
    """
    with opened_shop(find_place(data)) as opened:
        shop = replace(opened, known_settings=cache(opened.settings))
        yield shop.in_branch(branch) if branch else shop


def where_document(where: LotAtBranch) -> dict[str, Any]:
    """Returns a lot in a branch as JSON."""
    return {
        "sku": where.sku,
        "colour": where.colour_code,
        "lot": where.lot,
        "branch": where.branch,
    }
