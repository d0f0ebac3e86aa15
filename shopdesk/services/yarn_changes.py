"""Adding and changing a yarn, adding a colour to it, and noting what was measured on it."""

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from shopdesk.craft import lengths
from shopdesk.craft.colours import colour_families
from shopdesk.craft.errors import InputError, InputErrors, Problem
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import Measurement
from shopdesk.exchange.columns import Values
from shopdesk.exchange.stored_rows import set_yarn, yarn_values
from shopdesk.exchange.yarn_fields import EMPTY, whole_yarn, yarn_fields
from shopdesk.exchange.yarn_lines import written
from shopdesk.parsing.gtins import read_gtin
from shopdesk.shelf.loading import YarnUnknown
from shopdesk.shelf.mapping import measurement_values
from shopdesk.shop.shop import Shop
from shopdesk.store.models import Colourway, Yarn, YarnMeasurement
from shopdesk.store.settings import load_settings

_NAMES = {"price_minor": "price"}
Texts = Mapping[str, str]


class AlreadyThere(InputError):
    """The article number or the colour's code is taken."""


class YarnChanged(InputError):
    """Somebody else changed the yarn since it was looked at; nothing was saved.

    `seen` tells the yarn as it is stored now; `differing` has name, stored and typed text of each
    fact that is not typed as it is stored.
    """

    def __init__(self, stored: Texts, typed: Texts) -> None:
        super().__init__(
            message("problem_visit.yarn_changed"), message("problem_visit.look_at_both")
        )
        self.seen = fingerprint(stored)
        self.differing = tuple(
            (name, stored[name], typed[name])
            for name in typed
            if name in stored and typed[name] != stored[name]
        )


@dataclass(frozen=True, slots=True)
class YarnAsTexts:
    """A yarn as the texts that it is saved from; `seen` tells whether it changed since."""

    texts: Texts
    seen: str


@dataclass(frozen=True, slots=True)
class NewColour:
    """A colour to be added; `gtin` is as typed or scanned, '' without one."""

    code: str
    colour_name: str
    family: str
    dark: bool = False
    gtin: str = ""


def yarn_texts(shop: Shop, sku: str | None = None) -> YarnAsTexts:
    """Returns a yarn by its SKU, or the yarn of which nothing is said. Raises YarnUnknown."""
    with shop.read() as session:
        values = EMPTY if sku is None else yarn_values(_row(session, sku))
        texts = _texts(values, load_settings(session).currency)
    return YarnAsTexts(texts, fingerprint(texts))


def add_yarn(shop: Shop, sku: str, texts: Texts) -> None:
    """Puts a new yarn on the shelf. Raises InputErrors, by the texts' names, and AlreadyThere."""
    too_long = message("problem_visit.sku_length", count=lengths.SKU)
    problems = list(_wrong_name("sku", sku, lengths.SKU, too_long))
    values = _read(texts, shop.settings().currency, problems)
    try:
        with shop.write() as session:
            yarn = Yarn(sku=sku)
            set_yarn(yarn, values)
            session.add(yarn)
    except IntegrityError:
        taken = message("problem_visit.sku_taken")
        raise AlreadyThere(taken, message("problem_visit.write_another"), "sku") from None


def edit_yarn(shop: Shop, sku: str, texts: Texts, seen: str) -> None:
    """Saves a yarn as it is written now, unless it is not any more as it was `seen`.

    Raises YarnUnknown, YarnChanged, and InputErrors, by the texts' names.
    """
    with shop.write() as session:
        currency = load_settings(session).currency
        row = _row(session, sku, lock=True)
        stored = _texts(yarn_values(row), currency)
        if seen != fingerprint(stored):
            raise YarnChanged(stored, _as_stored(texts, currency))
        set_yarn(row, _read(texts, currency))


def add_colour(shop: Shop, sku: str, colour: NewColour) -> None:
    """Adds a colour to a yarn. Raises YarnUnknown, AlreadyThere, InputErrors by fields."""
    gtin = _checked_colour(colour)
    try:
        with shop.write() as session:
            row = Colourway(
                yarn_id=_row(session, sku).id,
                code=colour.code,
                name=colour.colour_name,
                family=colour.family,
                dark=colour.dark,
                gtin=gtin,
            )
            session.add(row)
    except IntegrityError:
        taken = message("problem_visit.colour_taken")
        raise AlreadyThere(taken, message("problem_visit.write_another"), "code") from None


def add_measurement(shop: Shop, sku: str, measured: Measurement) -> None:
    """Keeps a measurement beside the label. Raises YarnUnknown, InputError for a day to come."""
    if measured.on > shop.today():
        wrong, right = message("problem_visit.day_to_come"), message("problem_visit.write_day")
        raise InputError(wrong, right, "on")
    with shop.write() as session:
        yarn = _row(session, sku).id
        session.add(YarnMeasurement(yarn_id=yarn, **measurement_values(measured)))


def fingerprint(texts: Texts) -> str:
    """Returns a text that differs whenever anything of the yarn does."""
    said = "\n".join(f"{name}={texts[name]}" for name in sorted(texts))
    return hashlib.sha256(said.encode()).hexdigest()


def _row(session: Session, sku: str, lock: bool = False) -> Yarn:
    wanted = select(Yarn).where(Yarn.sku == sku)
    row = session.scalar(wanted.with_for_update() if lock else wanted)
    if row is None:
        raise YarnUnknown(sku)
    return row


def _texts(values: Values, currency: str) -> dict[str, str]:
    return {_NAMES.get(name, name): written(name, each, currency) for name, each in values.items()}


def _as_stored(texts: Texts, currency: str) -> Texts:
    """Returns the texts as they would be stored, or as they are if they cannot be."""
    try:
        return _texts(_read(texts, currency), currency)
    except InputError:
        return texts


def _read(texts: Texts, currency: str, problems: Sequence[Problem] = ()) -> Values:
    """Returns the yarn's values. Raises InputErrors with these problems and its own."""
    found = list(problems)
    values: dict[str, object] = dict(EMPTY)
    for field in yarn_fields(currency):
        if field.key not in texts:
            continue
        try:
            values.update(field.read(texts[field.key], ""))
        except InputError as refusal:
            found.append(Problem((field.key,), refusal.problem.wrong, refusal.problem.right))
    if not texts.get("price"):
        wrong, right = message("problem_visit.no_price"), message("problem_visit.write_price")
        found.append(Problem(("price",), wrong, right))
    if found:
        raise InputErrors(found)
    try:
        return whole_yarn(values)
    except InputError as refusal:
        raise InputErrors([Problem((), refusal.problem.wrong, refusal.problem.right)]) from None


def _wrong_name(field: str, name: str, longest: int, too_long: Message) -> Iterator[Problem]:
    """Yields why lists could not name a thing so: nothing, too long, or signs that are no text."""
    if not 0 < len(name) <= longest:
        yield Problem((field,), too_long)
    elif not name.isprintable():
        wrong, right = message("problem_file.no_letters"), message("problem_file.one_line")
        yield Problem((field,), wrong, right)


def _checked_colour(colour: NewColour) -> str | None:
    """Returns the digits of the colour's own barcode. Raises InputErrors."""
    problems = [
        problem
        for field, longest in (("code", lengths.COLOUR_CODE), ("colour_name", lengths.COLOUR))
        for problem in _wrong_name(
            field,
            getattr(colour, field),
            longest,
            message("problem_visit.write_characters", count=longest),
        )
    ]
    if colour.family not in colour_families():
        wrong, right = message("problem_visit.not_of_list"), message("problem_visit.pick_one")
        problems.append(Problem(("family",), wrong, right))
    gtin = None
    try:
        gtin = read_gtin(colour.gtin).digits if colour.gtin else None
    except InputError as refusal:
        problems.append(refusal.problem.under("gtin"))
    if problems:
        raise InputErrors(problems)
    return gtin
