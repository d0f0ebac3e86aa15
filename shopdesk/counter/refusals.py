"""What is refused, said to staff: beside the box it is about, or as a page of its own."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any, NoReturn, cast

from flask import abort, current_app
from flask_wtf import FlaskForm

from shopdesk.craft.errors import InputError, Problem
from shopdesk.craft.messages import Message
from shopdesk.wording.formatting import ReaderPreferences, capital
from shopdesk.wording.translate import told, translate

LANGUAGE = "en-GB"
"""The language that the pages are written in."""


def counter_language() -> str:
    """Returns the tag of the language that the counter speaks to staff; asks no shelf."""
    return cast(str, current_app.config.get("COUNTER_LANGUAGE", LANGUAGE))


def said(refused: Message | InputError) -> str:
    """Returns what is refused in the counter's language, as it goes on in a line.

    Lengths and weights are metric, as what the boxes ask for.
    """
    reader = ReaderPreferences(counter_language())
    return told(refused, reader) if isinstance(refused, InputError) else translate(refused, reader)


def said_alone(refused: Message | InputError) -> str:
    """Returns the same as a sentence of its own, with a capital."""
    return capital(said(refused))


def problem_sentence(problem: Problem, right: Message | None = None) -> str:
    """Returns what is wrong and what would be right; `right` is said instead of the problem's."""
    return said_alone((replace(problem, right=right) if right else problem).sentence)


def refuse_box(field: Any, wrong: Message, right: Message | None = None) -> None:
    """Puts what is wrong with a box beside it."""
    field.errors = [problem_sentence(Problem((), wrong, right))]


def show_problems(form: FlaskForm, problems: Iterable[Problem]) -> list[str]:
    """Puts each problem's sentence to the box that its path names. Returns those without a box."""
    form_errors: list[str] = []
    for problem in problems:
        name, sentence = problem.place, problem_sentence(problem)
        if name in form:
            form[name].errors = [*form[name].errors, sentence]
        else:
            form_errors.append(sentence)
    return form_errors


def refuse_page(status: int, refused: Message | InputError) -> NoReturn:
    """Ends the request with the page of an HTTP status that says what is refused."""
    abort(status, said(refused))
