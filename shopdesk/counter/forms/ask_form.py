"""The ask as a form: its only way out is the ask document, and problems find their fields again."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cache
from typing import Any

from flask_wtf import FlaskForm
from werkzeug.datastructures import MultiDict
from wtforms import Field, FieldList, FormField, HiddenField

from shopdesk.counter.forms.amount_fields import (
    MOST_PARTS,
    SIZES_BINDINGS,
    PartFields,
    SizesFields,
    amount_data,
    amount_places,
    part_bindings,
    put_amount,
)
from shopdesk.counter.forms.ask_fields import (
    CUSTOMER_BINDINGS,
    DESIGNER_BINDINGS,
    MOST_FIBRES,
    PATTERN_BINDINGS,
    CustomerFields,
    DesignerFields,
    PatternFields,
    fibre_bindings,
)
from shopdesk.counter.forms.binding import (
    Binding,
    Tree,
    Way,
    document_value,
    field_data,
    nearest,
    value_at,
)
from shopdesk.counter.forms.fields import leaf_fields
from shopdesk.counter.refusals import problem_sentence
from shopdesk.craft.errors import Problem

_DESIGNER = "designer"
_FIBRE = f"{_DESIGNER}-fibres-"
_BOX_NAME = re.compile(r"[a-z_]+(?:-(?:[a-z_]+|[0-9]{1,2}))*", re.ASCII)


class AskForm(FlaskForm, PatternFields, SizesFields, CustomerFields):
    """A customer's pattern and wishes, as typed; `sheet` tells this form from every other."""

    sheet = HiddenField()
    designer = FormField(DesignerFields)
    parts = FieldList(FormField(PartFields), min_entries=1, max_entries=MOST_PARTS)

    def boxes(self) -> dict[str, Field]:
        """Returns every field that is filled in, by its full name."""
        return {field.name: field for field in leaf_fields(self)}

    def add_part(self) -> None:
        """Appends an empty part with a name that differs from those before it."""
        if len(self.parts) < MOST_PARTS:
            self.parts.append_entry({"name": f"part {len(self.parts) + 1}"})

    def add_fibre(self) -> None:
        """Appends an empty line to the designer's blend."""
        fibres = self.designer.form.fibres
        if len(fibres) < MOST_FIBRES:
            fibres.append_entry()


def received(sent: MultiDict[str, str], without: str = "") -> MultiDict[str, str]:
    """Returns what was sent under names that a form can have, but for one entry of a list."""
    return MultiDict(
        (name, value)
        for name, value in sent.items(multi=True)
        if _BOX_NAME.fullmatch(name) and not (without and name.startswith(f"{without}-"))
    )


def ask_document_of(form: AskForm) -> tuple[dict[str, Any], list[Problem]]:
    """Returns the document that the form says, and what the document had no way to say."""
    boxes, tree = form.boxes(), Tree()
    for binding in _written(form):
        _put(tree, binding, document_value(binding, boxes[binding.field]))
    problems: list[Problem] = []
    for place, entry in enumerate(_said_parts(form)):
        part = _typed(entry)
        ball = _typed(form.designer) if _ball_is_designers(form, entry) else part
        problems += put_amount(tree, place, part, ball)
    return tree.document(), problems


def _put(tree: Tree, binding: Binding, value: Any) -> None:
    if binding.beside is not None:
        tree.put_beside(binding.beside, binding.path, value)
    elif value is not None and value != binding.usual:
        tree.put(binding.path, value)


def show_problems(form: AskForm, problems: Iterable[Problem]) -> list[str]:
    """Puts each problem's message to its field. Returns those that belong to no field."""
    boxes, places = form.boxes(), tuple(_places(form))
    form_errors: list[str] = []
    for problem in problems:
        binding = nearest(places, problem.path)
        box = boxes.get(binding.field) if binding else None
        sentence = problem_sentence(problem, binding.right if binding else None)
        if box is None:
            form_errors.append(sentence)
        elif sentence not in box.errors:
            box.errors = [*box.errors, sentence]
    return form_errors


def ask_form_data(document: Any) -> MultiDict[str, str]:
    """Returns what the form's boxes hold so that they say this document."""
    data: MultiDict[str, str] = MultiDict()
    bindings = list(_ALWAYS)
    for row in range(_length(document, ("designer_yarn", "fibres"))):
        bindings += fibre_bindings(row, f"{_FIBRE}{row}")
    for row in range(_length(document, ("parts",))):
        bindings += part_bindings(row, f"parts-{row}")
        for name, text in amount_data(value_at(document, ("parts", row, "amount"))).items():
            data.add(f"parts-{row}-{name}", text)
    for binding in bindings:
        value = value_at(document, binding.path)
        if value is not None:
            _add(data, binding, field_data(binding, value))
    return data


def _add(data: MultiDict[str, str], binding: Binding, held: Any) -> None:
    if binding.way is Way.FLAG:
        held = ["y"] if held else []
    for text in held if isinstance(held, list) else [held]:
        data.add(binding.field, text)


def _length(document: Any, path: tuple[str, ...]) -> int:
    found = value_at(document, path)
    return len(found) if isinstance(found, list) else 0


_ALWAYS = (
    *PATTERN_BINDINGS,
    *SIZES_BINDINGS,
    *CUSTOMER_BINDINGS,
    *(replace(binding, field=f"{_DESIGNER}-{binding.field}") for binding in DESIGNER_BINDINGS),
)


@cache
def boxes_in(place: str) -> tuple[str, ...]:
    """Returns the boxes of what stands in a place of the ask such as 'gauge.over', in their order.

    Those of the parts are not among them; of the blend there are all that a form can have.
    """
    path = tuple(place.split("."))
    fibres = (b for row in range(MOST_FIBRES) for b in fibre_bindings(row, f"{_FIBRE}{row}"))
    return tuple(one.field for one in (*_ALWAYS, *fibres) if one.path[: len(path)] == path)


def is_fibre_box(box: str) -> bool:
    """True for a box of the blend, whose lines are as many as there are fibres."""
    return box.startswith(_FIBRE)


def _written(form: AskForm) -> Iterator[Binding]:
    """Yields the bindings that are written one by one, for the form as it is filled in."""
    yield from _ALWAYS
    lines = [line for line in form.designer.form.fibres if any(_typed(line).values())]
    for place, line in enumerate(lines):
        yield from fibre_bindings(place, line.name)
    for place, entry in enumerate(_said_parts(form)):
        yield from part_bindings(place, entry.name)


def _places(form: AskForm) -> Iterator[Binding]:
    yield from _written(form)
    for place, entry in enumerate(_said_parts(form)):
        ball_in = _DESIGNER if _ball_is_designers(form, entry) else entry.name
        yield from amount_places(place, entry.name, ball_in)


def _said_parts(form: AskForm) -> "list[FormField[Any]]":
    """Returns the parts that say anything, or the first one if none does."""
    entries: list[FormField[Any]] = list(form.parts)
    said = ("name", "count", "counted_in", "own_length", "own_mass", "own_sku")
    return [e for e in entries if any(_typed(e)[box] for box in said)] or entries[:1]


def _ball_is_designers(form: AskForm, entry: "FormField[Any]") -> bool:
    """True where a part leaves its ball empty and the designer's yarn gives one."""
    part, designer = _typed(entry), _typed(form.designer)
    return not (part["ball_mass"] or part["ball_length"]) and bool(
        designer["ball_mass"] or designer["ball_length"]
    )


def _typed(entry: "FormField[Any]") -> dict[str, str]:
    return {
        field.short_name: str(field.data or "").strip()
        for field in entry.form
        if not isinstance(field, FieldList)
    }
