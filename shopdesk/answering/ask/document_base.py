"""What the ask's models are made of: strict numbers and words, and the place they stand at.

A number may be a JSON number or a string as a person writes it ('3,5', '1 1/2'). Each field's
description says what would be right; it is also what a refusal tells the user.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Annotated, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
    WithJsonSchema,
)

from shopdesk.craft import lengths
from shopdesk.craft.errors import InputError, Path, Problem
from shopdesk.craft.messages import Message, message
from shopdesk.craft.numerals import RIGHT, WRITTEN_PATTERN, NumberRefused, read_number
from shopdesk.craft.yarn import Craft

SMALLEST = Decimal("0.001")


def _strict_number(value: object) -> object:
    number = _number_of(value)
    if number.is_finite() and 0 < abs(number) < SMALLEST:
        raise cannot_be(message("problem_ask.too_small", least_exact=SMALLEST))
    return number


def _number_of(value: object) -> Decimal:
    if isinstance(value, str):
        try:
            return read_number(value)
        except NumberRefused as refusal:
            raise cannot_be(_with_offer(refusal.problem)) from None
    if isinstance(value, bool) or not isinstance(value, int | float | Decimal):
        raise cannot_be(message("problem_ask.not_a_number"))
    return Decimal(str(value))


def _with_offer(problem: Problem) -> Message:
    """What is wrong with a number, with what would be right where the number itself tells it."""
    if problem.right is None or problem.right == RIGHT:
        return problem.wrong
    return message("problem_ask.with_offer", wrong=problem.wrong, right=problem.right)


def cannot_be(wrong: Message) -> InputError:
    """A refusal inside a model; what would be right is said by the field it stands in."""
    return InputError(wrong, message("problem_ask.correct_it"))


Number = Annotated[
    Decimal,
    BeforeValidator(_strict_number),
    WithJsonSchema({"anyOf": [{"type": "number"}, {"type": "string", "pattern": WRITTEN_PATTERN}]}),
]
Positive = Annotated[Number, Field(gt=0, le=100000)]
Stitches = Annotated[Number, Field(gt=0, le=2000)]
Percent = Annotated[Number, Field(gt=0, le=100)]
Money = Annotated[Number, Field(ge=0, le=1000000)]
Word = Annotated[
    str, StringConstraints(strip_whitespace=True, min_length=1, max_length=lengths.ASK_WORD)
]
Values = Annotated[list[Positive], Field(min_length=1, max_length=30)]


class Document(BaseModel):
    """A part of the ask; fields that are not named here are refused.

    `read` returns what the part is in the Ask's fixed units, and tells its place what cannot be.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)


@dataclass(frozen=True, slots=True)
class AskPlace:
    """Where in an ask of this craft a value stands; `/` goes on to what is in it.

    `problems` are those of the whole ask, so that all are told at once.
    """

    craft: Craft
    path: Path = ()
    problems: list[Problem] = field(default_factory=list)

    def __truediv__(self, step: str | int) -> Self:
        return replace(self, path=(*self.path, step))

    def refuse(self, wrong: Message, right: Message) -> None:
        """Notes that what stands here cannot be used."""
        self.take(InputError(wrong, right))

    def take(self, refusal: InputError) -> None:
        """Notes what was refused of what stands here."""
        self.problems.extend(problem.under(*self.path) for problem in refusal.problems)

    def known(
        self, names: Sequence[str], known: Callable[[str], str | None], right: Message
    ) -> frozenset[str]:
        """Returns what a list of names stands for; `known` gives each its key, or None."""
        keys = [known(name) for name in names]
        for index, name in enumerate(names):
            if keys[index] is None:
                (self / index).refuse(message("problem_ask.not_known", name=name), right)
        return frozenset(key for key in keys if key is not None)
