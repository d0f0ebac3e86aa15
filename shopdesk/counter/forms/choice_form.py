"""The choice as a form: for each part a colour and its lots; what was told; who served.

Its only way out is a Selection. The boxes of a lot are named by what the lot is, so that stock that
changes while the page is open never makes a number mean another lot.
"""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from flask_wtf import FlaskForm
from wtforms import BooleanField, Field, HiddenField

from shopdesk.answering.model.answer import ColourSupply, LotTaken, Selection
from shopdesk.counter.forms.fields import (
    BoundedNumberField,
    OfferedField,
    OneOfField,
    SomeOfField,
    TextField,
)
from shopdesk.counter.refusals import problem_sentence, refuse_box, said_alone
from shopdesk.craft import lengths
from shopdesk.craft.errors import InputErrors
from shopdesk.craft.messages import Message, message
from shopdesk.services.answers import JudgedYarn
from shopdesk.services.contacts import NO_CONTACT, ContactDetails, ContactRefused, checked_contact
from shopdesk.services.selection import PartWanted, select, stock_of
from shopdesk.slips.composing import untold_cautions
from shopdesk.slips.papers import papers
from shopdesk.store.settings import ShopSettings
from shopdesk.wording.formatting import LANGUAGES, ReaderPreferences, locale_of

NOTHING = "-"


class SelectionForm(FlaskForm):
    """What does not depend on the yarn; `key` tells this form from every other."""

    key = HiddenField()
    staff = TextField("Your initials", "They stand on the slip.")
    customer_name = TextField("Customer’s name", "Only if it is wanted on the slip.")
    may_ask = BooleanField("Yes, we may ask")
    phone = TextField(
        "Telephone", "Only to ask; may be empty, and never on the slip.", render_kw={"type": "tel"}
    )
    supersedes = BoundedNumberField(
        "In place of slip",
        "Only where it replaces an earlier one.",
        low=1,
        high=10**9,
        whole=True,
        empty_is=Decimal(0),
    )


@dataclass(frozen=True, slots=True)
class LotBox:
    """One lot of a colour: the box for its skeins and how many there are."""

    lot: str | None
    available: int
    box: BoundedNumberField


@dataclass(frozen=True, slots=True)
class ColourRow:
    """One colour that a part may have, with the radio button and the boxes that belong to it."""

    choice: ColourSupply
    option: Any
    lots: tuple[LotBox, ...]


class YarnSelection:
    """The form for one judged yarn, with what the page needs to draw it."""

    def __init__(
        self,
        judged: JudgedYarn,
        settings: ShopSettings,
        elsewhere: Mapping[str, Mapping[str, int]],
    ) -> None:
        self.judged, self.candidate = judged, judged.candidate
        self.settings = settings
        self.stock = stock_of(judged.yarn)
        self.elsewhere = elsewhere
        self.flagged = untold_cautions(judged.answer, self.candidate)
        self.parts = tuple(amount.part for amount in self.candidate.amounts)
        self.form: Any = self._form_class()()

    def colours(self, part: str) -> list[ColourSupply]:
        """Returns how each colour could supply a part, in the answer's order."""
        return [choice for choice in self.candidate.colours if choice.part == part]

    def colour_field(self, part: str) -> OneOfField:
        """Returns the radio buttons of one part."""
        field: OneOfField = self.form[f"colour_{self.parts.index(part)}"]
        return field

    def rows(self, part: str) -> Iterator[ColourRow]:
        """Yields the colours of a part as the page shows them."""
        options = iter(self.colour_field(part))
        for choice in self.colours(part):
            yield ColourRow(choice, next(options), tuple(self._lot_boxes(part, choice)))

    def nothing_option(self, part: str) -> Any:
        """Returns the radio button for leaving a part out; None where there is but one part."""
        return list(self.colour_field(part))[-1] if len(self.parts) > 1 else None

    def boxes(self) -> list[Field]:
        """Returns every field that may hold a message."""
        return [field for field in self.form if field.name != "csrf_token"]

    def supersedes(self) -> int | None:
        """Returns the number of the slip that this one replaces, after reading."""
        return int(self.form.supersedes.number or 0) or None

    def contact(self) -> ContactDetails:
        """Returns what is kept to ask after the swatch; a message beside what cannot be."""
        form, may_ask = self.form, bool(self.form.may_ask.data)
        if form.phone.typed and not may_ask:
            nobody = message("problem_form.nobody_may_ask")
            refuse_box(form.phone, nobody, message("problem_form.may_we_ask"))
        if not may_ask or form.customer_name.errors:
            return NO_CONTACT
        try:
            return checked_contact(form.customer_name.typed, form.phone.typed, may_ask)
        except ContactRefused as refusal:
            box = form.phone if refusal.field == "phone" else form.customer_name
            box.errors = [said_alone(refusal)]
            return NO_CONTACT

    def read(self) -> Selection | None:
        """Returns the choice, or None after putting a message to every box that is wrong."""
        self.form.validate()
        selected = self._selected()
        self._check_told()
        _check_text(self.form.customer_name, lengths.CUSTOMER_IN_BOX)
        self.contact()
        _check_text(self.form.staff, lengths.INITIALS, message("problem_form.write_initials"))
        return None if any(field.errors for field in self.boxes()) else selected

    def _form_class(self) -> type[SelectionForm]:
        ticks = [(caution.code, caution.code) for caution in self.flagged]
        own = self.settings.language
        fields: dict[str, Any] = {
            "told": SomeOfField("Told the customer", ticks),
            "language": OfferedField("Language of the slip", slip_languages(own), default=own),
            "paper": OfferedField("Paper", _papers(), default=self.settings.paper),
        }
        for index, part in enumerate(self.parts):
            options = [(c.colour_code, c.colour_name) for c in self.colours(part)]
            if len(self.parts) > 1:
                options.append((NOTHING, "Nothing for this part now"))
            only = options[0][0] if len(options) == 1 else None
            label = f"Colour for {part}" if len(self.parts) > 1 else "Colour"
            fields[f"colour_{index}"] = OneOfField(label, options, default=only)
            for choice in self.colours(part):
                for lot, available in self.stock.get(choice.colour_code, {}).items():
                    name = _box_name(index, choice.colour_code, lot)
                    fields[name] = _lot_field(lot, available)
        return type("ChoiceOfYarn", (SelectionForm,), fields)

    def _lot_boxes(self, part: str, choice: ColourSupply) -> Iterator[LotBox]:
        index = self.parts.index(part)
        for lot, available in self.stock.get(choice.colour_code, {}).items():
            yield LotBox(lot, available, self.form[_box_name(index, choice.colour_code, lot)])

    def _parts_wanted(self) -> list[PartWanted]:
        """Returns what is written for each part, with a message where no colour is marked."""
        wanted: list[PartWanted] = []
        for part in self.parts:
            field, code = self.colour_field(part), str(self.colour_field(part).data or "")
            if code == NOTHING and len(self.parts) > 1:
                continue
            choice = next((c for c in self.colours(part) if c.colour_code == code), None)
            if choice is None:
                refuse_box(field, message("problem_form.choose_colour"))
                continue
            wanted.append(PartWanted(part, code, tuple(self._typed_lots(part, choice))))
        return wanted

    def _typed_lots(self, part: str, choice: ColourSupply) -> Iterator[LotTaken]:
        for row in self._lot_boxes(part, choice):
            if row.box.number:
                yield LotTaken(row.lot, int(row.box.number))

    def _selected(self) -> Selection | None:
        wanted = self._parts_wanted()
        if not wanted and not any(self.colour_field(part).errors for part in self.parts):
            refuse_box(self.colour_field(self.parts[0]), message("problem_shelf.choose_part"))
        try:
            return select(self.judged, wanted, self._told())
        except InputErrors as refusal:
            for problem in refusal.problems:
                self.colour_field(str(problem.path[0])).errors = [problem_sentence(problem)]
            return None

    def _told(self) -> set[str]:
        ticked = set(self.form.told.data or ())
        return {caution.code for caution in self.flagged if caution.code in ticked}

    def _check_told(self) -> None:
        if untold_cautions(self.judged.answer, self.candidate, self._told()):
            refuse_box(self.form.told, message("problem_form.tell_each"))


def slip_languages(own: str) -> list[tuple[str, str]]:
    """Returns the languages a slip can be in, the shop's own first, each by its own name."""
    texts = ReaderPreferences(own).texts
    first = [own] if texts in LANGUAGES else []
    offered = (*first, *(tag for tag in LANGUAGES if tag != texts))
    return [(tag, locale_of(tag).get_display_name() or tag) for tag in offered]


def _papers() -> list[tuple[str, str]]:
    return [(key, paper.name) for key, paper in papers().items()]


def _lot_field(lot: str | None, available: int) -> BoundedNumberField:
    label = f"Skeins of lot {lot}" if lot else "Skeins, no lot number"
    return BoundedNumberField(
        label, f"{available} there", low=0, high=available, whole=True, empty_is=Decimal(0)
    )


def _box_name(part: int, colour: str, lot: str | None) -> str:
    said = f"{colour}\n{'' if lot is None else 'lot ' + lot}"
    return f"lot_{part}_{hashlib.sha256(said.encode()).hexdigest()[:12]}"


def _check_text(field: Any, longest: int, needed: Message | None = None) -> None:
    """Puts a message to a text that no slip takes; `needed` says what an empty box wants."""
    text = field.typed
    if not text and needed:
        refuse_box(field, message("problem_reading.nothing"), needed)
    elif len(text) > longest:
        too_many = message("problem_shelf.too_many_letters", count=len(text))
        refuse_box(field, too_many, message("problem_file.write_at_most", count=longest))
    elif not text.isprintable():
        without = message("problem_form.without_them")
        refuse_box(field, message("problem_form.unprintable"), without)
