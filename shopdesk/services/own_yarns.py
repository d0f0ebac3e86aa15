"""The house yarns that a customer brings leftovers of, with what the shelf knows of them."""

from collections.abc import Iterator
from dataclasses import replace

from sqlalchemy.orm import Session

from shopdesk.answering.model.ask import Ask, Part
from shopdesk.answering.supply.own_yarn import as_on_the_shelf
from shopdesk.craft.errors import InputErrors, Problem
from shopdesk.craft.messages import message
from shopdesk.shelf.loading import shelf_yarn


def with_own_yarns(session: Session, ask: Ask) -> Ask:
    """Returns the ask, each house yarn in hand with put-up, fibres and care; retired ones too.

    One that the shop does not have any more stays as it was said.
    """
    if not any(part.own and part.own.sku for part in ask.parts):
        return ask
    return replace(ask, parts=tuple(_known(session, part) for part in ask.parts))


def require_own_yarns(session: Session, ask: Ask) -> None:
    """Raises InputErrors at the SKU of each yarn in hand that the shop does not know."""
    problems = list(_unknown(session, ask))
    if problems:
        raise InputErrors(problems)


def _known(session: Session, part: Part) -> Part:
    if part.own is None or part.own.sku is None:
        return part
    yarn = shelf_yarn(session, part.own.sku)
    return replace(part, own=as_on_the_shelf(part.own, yarn)) if yarn else part


def _unknown(session: Session, ask: Ask) -> Iterator[Problem]:
    for place, part in enumerate(ask.parts):
        sku = part.own.sku if part.own else None
        if sku is not None and shelf_yarn(session, sku) is None:
            wrong, right = (
                message("problem_file.no_yarn", sku=sku),
                message("problem_visit.check_article"),
            )
            yield Problem(("parts", place, "own", "sku"), wrong, right)
