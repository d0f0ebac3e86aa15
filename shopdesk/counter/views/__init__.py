"""One module of views for each group of pages."""

from flask import Blueprint

from shopdesk.counter.views import asking

BLUEPRINTS: tuple[Blueprint, ...] = (asking.pages,)
