"""One module of views for each group of pages."""

from flask import Blueprint

from shopdesk.counter.views import (
    answers,
    asking,
    branches,
    calibration,
    choosing,
    customers,
    holds,
    importing,
    leftovers,
    morning,
    one_more,
    settings,
    shelf,
    shelf_changes,
    signing,
    slips,
    swatches,
)

BLUEPRINTS: tuple[Blueprint, ...] = (
    asking.pages,
    asking.pattern_pages,
    answers.pages,
    choosing.pages,
    slips.pages,
    swatches.pages,
    one_more.pages,
    holds.pages,
    leftovers.pages,
    branches.pages,
    customers.pages,
    morning.pages,
    importing.pages,
    shelf.pages,
    shelf_changes.pages,
    settings.pages,
    calibration.pages,
    signing.pages,
    settings.health_pages,
)
