"""The shop's settings, the default allowance among them: read strictly, kept in the database."""

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, fields
from decimal import Decimal
from typing import Any

from sqlalchemy import delete, exists, select
from sqlalchemy.orm import Session

from shopdesk.answering.model.answer import ShopTerms
from shopdesk.craft import lengths
from shopdesk.craft.errors import InputError, InputErrors, Problem
from shopdesk.craft.messages import Message, message
from shopdesk.craft.money import currencies, minor_units
from shopdesk.craft.numerals import read_number
from shopdesk.reference.paper_uses import papers_for
from shopdesk.store.tables.settings import Setting
from shopdesk.store.tables.yarns import Yarn
from shopdesk.wording.formatting import (
    LANGUAGES,
    CrochetTerms,
    LanguageRefused,
    ReaderPreferences,
    Units,
    require_texts,
)

PAPERS = papers_for("slip")


class SettingRefused(InputError):
    """A setting that cannot be: what is wrong. The field's `right` says what would do."""

    def __init__(self, wrong: Message) -> None:
        super().__init__(wrong, None)


@dataclass(frozen=True, slots=True)
class SettingText:
    """How one setting is read from text, and the words that say what is right."""

    read: Callable[[str], Any]
    right: Message


def write_setting(value: object) -> str:
    """Returns a setting as the text that its reader takes."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def stored_setting(text: str, kind: type) -> Any:
    """Returns the value of a text that `write_setting` wrote for a setting of this kind."""
    return text == "yes" if kind is bool else kind(text)


def _text_of_setting(longest: int, needed: bool = False) -> Callable[[str], str]:
    def read(text: str) -> str:
        stripped = "\n".join(line.strip() for line in text.strip().splitlines())
        if needed and not stripped:
            raise SettingRefused(message("problem_reading.nothing"))
        if len(stripped) > longest:
            raise SettingRefused(message("problem_shelf.too_many_letters", count=len(stripped)))
        if any(ord(letter) < 32 and letter != "\n" for letter in stripped):
            raise SettingRefused(message("problem_shelf.control_characters"))
        return stripped

    return read


def _one_of(*values: str) -> Callable[[str], str]:
    def read(text: str) -> str:
        for value in values:
            if text.strip().casefold() == value.casefold():
                return value
        raise SettingRefused(message("problem_shelf.not_of_these", text=text.strip()[:40]))

    return read


def _whole(low: int, high: int) -> Callable[[str], int]:
    def read(text: str) -> int:
        number = read_number(text)
        if number != number.to_integral_value() or not low <= number <= high:
            wrong = message("problem_shelf.no_whole", text=text.strip(), low=low, high=high)
            raise SettingRefused(wrong)
        return int(number)

    return read


def _percent(text: str) -> Decimal:
    number = read_number(text)
    if not 0 <= number <= 50:
        raise SettingRefused(message("problem_shelf.not_0_to_50", text=text.strip()))
    return number


def _yes_or_no(text: str) -> bool:
    return _one_of("yes", "no")(text) == "yes"


def _currency(text: str) -> str:
    code = text.strip().upper()
    if code not in currencies():
        raise SettingRefused(message("problem_shelf.no_currency", text=text.strip()[:40]))
    return code


def _country(text: str) -> str:
    from babel import Locale

    code = text.strip().upper()
    known = Locale("en").territories
    if code and (len(code) != 2 or not code.isalpha() or code not in known):
        raise SettingRefused(message("problem_shelf.no_country", text=text.strip()[:40]))
    return code


def _language(text: str) -> str:
    from babel import Locale, UnknownLocaleError

    tag = text.strip().replace("_", "-")
    try:
        locale = Locale.parse(tag, sep="-")
    except (ValueError, UnknownLocaleError):
        raise SettingRefused(message("problem_shelf.no_language", text=tag[:40])) from None
    try:
        require_texts(tag)
    except LanguageRefused as refusal:
        raise SettingRefused(refusal.problem.wrong) from None
    return str(locale).replace("_", "-")


def _days(low: int, high: int) -> SettingText:
    return SettingText(_whole(low, high), message("problem_shelf.days", low=low, high=high))


SETTINGS: Mapping[str, SettingText] = {
    "shop_name": SettingText(
        _text_of_setting(lengths.SHOP, needed=True),
        message("problem_shelf.shop_name", count=lengths.SHOP),
    ),
    "address": SettingText(_text_of_setting(300), message("problem_shelf.address", count=300)),
    "currency": SettingText(_currency, message("problem_yarn.write_currency")),
    "tax_included": SettingText(_yes_or_no, message("problem_shelf.yes_or_no")),
    "units": SettingText(
        _one_of("metric", "imperial", "both"),
        message("problem_shelf.write_one_of", names="metric, imperial, both"),
    ),
    "crochet_terms": SettingText(
        _one_of("US", "UK"), message("problem_shelf.write_one_of", names="US, UK")
    ),
    "paper": SettingText(
        _one_of(*PAPERS), message("problem_shelf.write_one_of", names=", ".join(PAPERS))
    ),
    "allowance_percent": SettingText(_percent, message("problem_shelf.allowance")),
    "country": SettingText(_country, message("problem_shelf.country")),
    "language": SettingText(
        _language,
        message(
            "problem_shelf.language",
            such=", ".join(("en-GB", "en-US", *LANGUAGES[1:-1])),
            texts=", ".join(LANGUAGES[:-1]),
            last=LANGUAGES[-1],
        ),
    ),
    "return_wording": SettingText(
        _text_of_setting(300), message("problem_shelf.return_rule", count=300)
    ),
    "return_days": SettingText(_whole(0, 365), message("problem_shelf.return_days", high=365)),
    "hold_days": _days(1, 365),
    "swatch_reminder_days": _days(1, 365),
    "keep_names_days": _days(1, 3650),
}


@dataclass(frozen=True, slots=True)
class ShopSettings:
    """What the shop decides for itself.

    `country` '' takes the strictest rules. Unopened skeins come back within `return_days` of
    their slip (0: none do). Names of customers are kept for `keep_names_days`;
    a hold lasts `hold_days`; a slip without a swatch is asked after when
    `swatch_reminder_days` have passed.
    """

    shop_name: str = "Yarn shop"
    address: str = ""
    currency: str = "EUR"
    tax_included: bool = True
    units: Units = "metric"
    crochet_terms: CrochetTerms = "US"
    paper: str = "A5"
    allowance_percent: Decimal = Decimal(10)
    country: str = ""
    language: str = "en"
    return_wording: str = ""
    return_days: int = 0
    hold_days: int = 14
    swatch_reminder_days: int = 14
    keep_names_days: int = 365

    def terms(self) -> ShopTerms:
        """Returns the terms that an answer depends on."""
        return ShopTerms(self.currency, self.tax_included, self.allowance_percent, self.country)

    def reader(self, language: str | None = None) -> ReaderPreferences:
        """Returns how the shop speaks, in its own language or another one for one customer."""
        return ReaderPreferences(
            language or self.language, self.units, self.crochet_terms, self.currency
        )

    def texts(self) -> dict[str, str]:
        """Returns every setting as the text that `read_settings` takes."""
        return {name: write_setting(value) for name, value in asdict(self).items()}


def read_settings(texts: Mapping[str, str], before: ShopSettings | None = None) -> ShopSettings:
    """Returns the settings written in `texts`; what is not there stays as it was `before`.

    Raises InputErrors with every problem: a name that is not known, a value that cannot be.
    """
    values: dict[str, Any] = asdict(before or ShopSettings())
    problems = []
    for name, text in texts.items():
        setting = SETTINGS.get(name)
        if setting is None:
            wrong = message("problem_shelf.no_setting")
            right = message("problem_shelf.settings", names=", ".join(SETTINGS))
            problems.append(Problem((name,), wrong, right))
            continue
        try:
            values[name] = setting.read(text)
        except InputError as refusal:
            problems.append(Problem((name,), refusal.problem.wrong, setting.right))
    if problems:
        raise InputErrors(problems)
    return ShopSettings(**values)


def load_settings(session: Session) -> ShopSettings:
    """Returns the shop's settings; one that was never saved has its default.

    They were checked when they were saved, so that only their kind is read here.
    """
    kinds = {field.name: type(field.default) for field in fields(ShopSettings)}
    stored = Setting.__table__.c
    rows = session.execute(select(stored.name, stored.value)).all()
    values = {name: stored_setting(value, kinds[name]) for name, value in rows if name in kinds}
    return ShopSettings(**values)


def save_settings(session: Session, settings: ShopSettings) -> None:
    """Keeps the settings. Raises InputErrors where they do not fit what is on the shelf."""
    _keep_prices_whole(session, settings)
    texts = settings.texts()
    session.execute(delete(Setting).where(Setting.name.in_(texts)))
    session.add_all(Setting(name=name, value=value) for name, value in texts.items())
    session.flush()


def _keep_prices_whole(session: Session, settings: ShopSettings) -> None:
    """Prices are stored in minor units, so that they survive only a currency with as many."""
    before = load_settings(session).currency
    if minor_units(before) == minor_units(settings.currency):
        return
    if session.scalar(select(exists().where(Yarn.price_minor > 0))):
        wrong = message("problem_shelf.prices_in", before=before, after=settings.currency)
        right = message("problem_shelf.keep_currency", before=before, after=settings.currency)
        raise InputErrors([Problem(("currency",), wrong, right)])
