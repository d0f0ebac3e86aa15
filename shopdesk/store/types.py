"""What every stored table shares: its base, and column types exact on SQLite as on PostgreSQL."""

from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Annotated

from sqlalchemy import Date, DateTime, Dialect, ForeignKey, MetaData, String
from sqlalchemy.orm import DeclarativeBase, mapped_column
from sqlalchemy.types import TypeDecorator

NAMING = {
    "ix": "ix_%(column_0_label)s",
    "uq": "uq_%(table_name)s_%(column_0_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}


class Base(DeclarativeBase):
    """Names every constraint, so that migrations can alter it on SQLite and PostgreSQL."""

    metadata = MetaData(naming_convention=NAMING)


class DecimalText(TypeDecorator[Decimal]):
    """An exact decimal, stored as plain text such as '72.5' (SQLite would store a float)."""

    impl = String(40)
    cache_ok = True

    def process_bind_param(self, value: Decimal | None, dialect: Dialect) -> str | None:
        return None if value is None else f"{value:f}"

    def process_result_value(self, value: str | None, dialect: Dialect) -> Decimal | None:
        return None if value is None else Decimal(value)


class Moment(TypeDecorator[datetime]):
    """A moment in UTC. A datetime without a time zone is refused, never guessed."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"the moment {value} has no time zone")
        moment = value.astimezone(UTC)
        return moment.replace(tzinfo=None) if dialect.name == "sqlite" else moment

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


def now() -> datetime:
    """Returns the present moment in UTC."""
    return datetime.now(UTC)


def can_be_number(number: int) -> bool:
    """True if an integer column can hold it and a key or a slip's number can be it: 1 to 2^31-1."""
    return 0 < number < 2**31


Key = Annotated[int, mapped_column(primary_key=True)]
Moments = Annotated[datetime, mapped_column(Moment)]
Day = Annotated[date, mapped_column(Date)]
YarnKey = Annotated[int, mapped_column(ForeignKey("yarn.id", ondelete="CASCADE"))]
