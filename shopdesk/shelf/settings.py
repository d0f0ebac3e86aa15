"""The shop's settings: read strictly, kept in the database, plain data for everybody else."""

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, fields
from decimal import Decimal
from typing import Any

from sqlalchemy import delete, exists, select
from sqlalchemy.orm import Session

from shopdesk.answering.terms import ShopTerms
from shopdesk.craft.money import minor_units
from shopdesk.shelf.setting_texts import SETTINGS, SettingRefused, stored_setting, write_setting
from shopdesk.shelf.tables.keeping import Setting
from shopdesk.shelf.tables.yarns import Yarn
from shopdesk.wording.voice import CrochetTerms, Units, Voice


@dataclass(frozen=True, slots=True)
class SettingProblem:
    """One setting that cannot be as it was written."""

    field: str
    wrong: str
    right: str

    def __str__(self) -> str:
        return f"{self.field}: {self.wrong}; {self.right}"


class SettingsRefused(ValueError):
    """Settings cannot be as they were written; `problems` has every reason."""

    def __init__(self, problems: Iterable[SettingProblem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


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

    def voice(self, language: str | None = None) -> Voice:
        """Returns how the shop speaks, in its own language or another one for one customer."""
        return Voice(language or self.language, self.units, self.crochet_terms, self.currency)

    def texts(self) -> dict[str, str]:
        """Returns every setting as the text that `read_settings` takes."""
        return {name: write_setting(value) for name, value in asdict(self).items()}


def read_settings(texts: Mapping[str, str], before: ShopSettings | None = None) -> ShopSettings:
    """Returns the settings written in `texts`; what is not there stays as it was `before`.

    Raises SettingsRefused with every problem: a name that is not known, a value that cannot be.
    """
    values: dict[str, Any] = asdict(before or ShopSettings())
    problems = []
    for name, text in texts.items():
        setting = SETTINGS.get(name)
        if setting is None:
            known = "known are " + ", ".join(SETTINGS)
            problems.append(SettingProblem(name, "this setting is not known", known))
            continue
        try:
            values[name] = setting.read(text)
        except SettingRefused as refusal:
            problems.append(SettingProblem(name, str(refusal), setting.right))
    if problems:
        raise SettingsRefused(problems)
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
    """Keeps the settings. Raises SettingsRefused where they do not fit what is on the shelf."""
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
        wrong = f"prices on the shelf are in {before}, whose decimals {settings.currency} has not"
        right = f"keep {before}, or start a new shelf in {settings.currency}"
        raise SettingsRefused([SettingProblem("currency", wrong, right)])
