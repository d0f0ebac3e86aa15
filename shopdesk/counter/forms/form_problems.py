"""What is wrong with what was typed, beside the box that it was typed into."""

from collections.abc import Iterable
from dataclasses import replace

from flask_wtf import FlaskForm

from shopdesk.craft.errors import Problem, as_message
from shopdesk.wording.formatting import capital
from shopdesk.wording.translate import english


def show_problems(form: FlaskForm, problems: Iterable[Problem]) -> list[str]:
    """Puts each problem's sentence to the box that its path names. Returns those without a box."""
    homeless: list[str] = []
    for problem in problems:
        name, sentence = problem.place, problem_sentence(problem)
        if name in form:
            form[name].errors = [*form[name].errors, sentence]
        else:
            homeless.append(sentence)
    return homeless


def problem_sentence(problem: Problem, right: str = "") -> str:
    """Returns what is wrong and what would be right; `right` is said instead of the problem's."""
    if right:
        problem = replace(problem, right=as_message(right))
    return capital(english(problem.sentence))
