"""What is refused, said to staff: beside the box it is about, or as a page of its own."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any, NoReturn, cast

from flask import abort, current_app
from flask_wtf import FlaskForm

from shopdesk.craft.errors import InputError, Problem
from shopdesk.craft.messages import Message
from shopdesk.wording.formatting import ReaderPreferences, capital
from shopdesk.wording.translate import is_as_given, translate

LANGUAGE = "en-GB"
"""The language that the pages are written in."""
ENDS = (".", "!", "?", "…")
"""What a sentence ends with."""


def counter_language() -> str:
    """Returns the tag of the language that the counter speaks to staff; asks no shelf."""
    return cast(str, current_app.config.get("COUNTER_LANGUAGE", LANGUAGE))


def _reader() -> ReaderPreferences:
    """Whoever reads the counter; lengths and weights are metric, as what the boxes ask for."""
    return ReaderPreferences(counter_language())


def heading(refused: Message) -> str:
    """Returns what is refused as the heading of a page, which ends without a full stop."""
    return capital(translate(refused, _reader()))


def said_alone(refused: Message | InputError) -> str:
    """Returns what is refused in the counter's language, a sentence a line.

    It begins with a capital, unless it begins with what was typed, and ends with a full stop.
    """
    lines = refused.lines() if isinstance(refused, InputError) else (refused,)
    return "\n".join(_sentence(line, _reader()) for line in lines)


def _sentence(line: Message, reader: ReaderPreferences) -> str:
    words = translate(line, reader)
    begun = words if is_as_given(line, reader) else capital(words)
    return begun if begun.endswith(ENDS) else f"{begun}."


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
    abort(status, said_alone(refused))
