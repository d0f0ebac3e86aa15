"""Form fields that keep what was typed and read it with the one strict reader."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from wtforms import (
    Field,
    FieldList,
    FormField,
    RadioField,
    SelectField,
    SelectMultipleField,
    StringField,
)
from wtforms.fields.choices import SelectChoice  # type: ignore[attr-defined]
from wtforms.form import BaseForm
from wtforms.validators import ValidationError
from wtforms.widgets import CheckboxInput, ListWidget

from shopdesk.counter.refusals import problem_sentence, refuse_box, said_alone
from shopdesk.craft.errors import Problem
from shopdesk.craft.messages import Message, message
from shopdesk.craft.numerals import NumberRefused, read_number
from shopdesk.wording.formatting import capital

Choices = Sequence[tuple[str, str]]
LONGEST_REQUEST_KEY = 64
NOT_OF_LIST = Problem((), message("problem_visit.not_of_list"), message("problem_visit.pick_one"))


class TextField(StringField):
    """One line of text, kept exactly as typed."""

    def __init__(self, label: str, description: str = "", **more: Any) -> None:
        more.setdefault("render_kw", {"autocomplete": "off"})
        super().__init__(label, description=description, **more)

    @property
    def typed(self) -> str:
        """What was typed, without blanks around it."""
        return (self.data or "").strip()


class NumberField(TextField):
    """A number as people write it ('22', '3,5', '1 1/2'); `data` stays the text."""

    def __init__(self, label: str, description: str = "", **more: Any) -> None:
        more.setdefault("render_kw", {"autocomplete": "off", "inputmode": "decimal"})
        super().__init__(label, description, **more)


class BoundedNumberField(NumberField):
    """A number that the form itself checks; after validation `number` holds it exactly."""

    def __init__(
        self,
        label: str,
        description: str = "",
        *,
        low: int,
        high: int,
        whole: bool = False,
        empty_is: Decimal | None = None,
        **more: Any,
    ) -> None:
        super().__init__(label, description, **more)
        self.low, self.high, self.whole, self.empty_is = low, high, whole, empty_is
        self.number: Decimal | None = None

    def pre_validate(self, form: BaseForm) -> None:
        self.number = self._read()

    def _read(self) -> Decimal:
        if not self.typed and self.empty_is is not None:
            return self.empty_is
        code = "problem_file.write_whole" if self.whole else "problem_form.write_between"
        right = Message(code, {"low": self.low, "high": self.high})
        try:
            number = read_number(self.typed, right)
        except NumberRefused as refusal:
            raise ValidationError(said_alone(refusal)) from None
        wrong = None
        if not self.low <= number <= self.high:
            wrong = message("problem_form.outside", text=self.typed)
        elif self.whole and number != number.to_integral_value():
            wrong = message("problem_form.not_whole", text=self.typed)
        if wrong is not None:
            raise ValidationError(problem_sentence(Problem((), wrong, right)))
        return number


class PickField(SelectField):
    """A list to pick one from. Values from outside the list are refused by the document's check."""

    def __init__(self, label: str, choices: Choices, description: str = "", **more: Any) -> None:
        more.setdefault("validate_choice", False)
        super().__init__(label, choices=offered(choices), description=description, **more)


class OfferedField(PickField):
    """A list to pick one from that the form itself checks."""

    def pre_validate(self, form: BaseForm) -> None:
        if self.data not in [choice[0] for choice in self.iter_choices()]:
            raise ValidationError(problem_sentence(NOT_OF_LIST))


class OneOfField(RadioField):
    """Radio buttons; like PickField, checked by the document."""

    def __init__(self, label: str, choices: Choices, description: str = "", **more: Any) -> None:
        more.setdefault("validate_choice", False)
        super().__init__(label, choices=offered(choices), description=description, **more)


class SomeOfField(SelectMultipleField):
    """A group of tick boxes."""

    widget = ListWidget(prefix_label=False)
    option_widget = CheckboxInput()

    def __init__(self, label: str, choices: Choices, description: str = "", **more: Any) -> None:
        more.setdefault("validate_choice", False)
        super().__init__(label, choices=offered(choices), description=description, **more)


def day_in(field: TextField) -> date | None:
    """Returns the day in a box, or None; puts a message to one that is no day."""
    if not field.typed:
        return None
    try:
        return date.fromisoformat(field.typed)
    except ValueError:
        refuse_box(field, message("problem_form.no_day"), message("problem_form.write_day"))
        return None


def check_length(field: TextField, longest: int) -> None:
    """Puts a message to a text with more letters than `longest`."""
    if len(field.typed) > longest:
        too_long = message("problem_ask.too_long_text")
        refuse_box(field, too_long, message("problem_form.letters_at_most", count=longest))


def request_key(field: Field) -> str | None:
    """Returns the random word that a form was made with, or None where none was sent."""
    return str(field.data or "")[:LONGEST_REQUEST_KEY] or None


def offered(choices: Choices) -> list[Any]:
    """Returns the choices as WTForms takes them."""
    return [SelectChoice(value, label) for value, label in choices]


def choices_of(values: Iterable[str], **labels: str) -> list[tuple[str, str]]:
    """Returns (value, label) pairs; the label is the value with a capital unless given."""
    return [(str(v), labels.get(str(v)) or capital(str(v))) for v in values]


def leaf_fields(form: "BaseForm | FormField[Any] | FieldList[Any]") -> Iterator[Field]:
    """Yields every field that is itself filled in, whatever it is nested in."""
    for field in form:
        if isinstance(field, FormField | FieldList):
            yield from leaf_fields(field)
        else:
            yield field
