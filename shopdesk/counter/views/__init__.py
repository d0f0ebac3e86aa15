"""One module of views for each group of pages."""

from flask import Blueprint

from shopdesk.counter.views import answers, asking, choosing, settings, slips

BLUEPRINTS: tuple[Blueprint, ...] = (
    asking.pages,
    answers.pages,
    choosing.pages,
    slips.pages,
    settings.pages,
)
