"""Slips on both databases: numbers, requests sent twice, finding, reprinting, superseding."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from sqlalchemy import Engine, delete, insert, select, text

from shopdesk.answering.model.answer import Answer
from shopdesk.services.privacy import forget_customer_of_slip
from shopdesk.services.slip_records import SlipRecord
from shopdesk.services.slips import (
    SlipIsKept,
    SlipOrder,
    SlipRefused,
    make_slip,
    slip,
    slips_found,
    write_slip,
)
from shopdesk.shelf.writing import writing
from shopdesk.slips.composing import CautionsNotTold
from shopdesk.slips.slip_lines import SelectionError
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.models import Branch, Slip
from shopdesk.store.settings import ShopSettings, save_settings
from shopdesk.wording import catalog, translate
from shopdesk.wording.formatting import LanguageRefused
from tests.ask_documents import an_ask_document
from tests.services.slips_at_counter import a_judged_yarn, shop_on
from tests.slip_factories import (
    A_SLIP_DAY,
    a_candidate,
    a_caution,
    a_choice,
    an_answer,
)
from tests.slip_reading import text_by_pypdf


def an_order(**facts: Any) -> SlipOrder:
    facts.setdefault("ask_document", an_ask_document(title="Striped pullover"))
    facts.setdefault("choice", a_choice())
    facts.setdefault("staff", "AB")
    return SlipOrder(**facts)


def made(
    shelf: Engine,
    answer: Answer | None = None,
    on: date = A_SLIP_DAY,
    branch: str = "main",
    **facts: Any,
) -> SlipRecord:
    order = an_order(**facts)
    judged = a_judged_yarn(answer, dict(order.ask_document))
    return make_slip(shop_on(shelf, on, branch), judged, order)


def kept(shelf: Engine, number: int) -> SlipRecord:
    with reading(shelf) as session:
        found = slip(session, number)
    assert found is not None
    return found


def numbers(shelf: Engine, **search: Any) -> list[int]:
    with reading(shelf) as session:
        return [one.number for one in slips_found(session, **search)]


def test_slips_are_numbered_from_one(shelf: Engine) -> None:
    assert [made(shelf).summary.number for _ in range(3)] == [1, 2, 3]


def test_each_branch_has_its_own_numbers(shelf: Engine) -> None:
    with writing(shelf) as session:
        session.add(Branch(code="north", name="North"))
    made(shelf)
    assert made(shelf, branch="north").summary.number == 1
    assert made(shelf).summary.number == 2


def test_a_refused_slip_uses_no_number(shelf: Engine) -> None:
    made(shelf)
    with pytest.raises(SelectionError):
        made(shelf, choice=replace(a_choice(), sku="none"))
    assert made(shelf).summary.number == 2


def test_a_slip_that_was_not_kept_uses_no_number(shelf: Engine) -> None:
    def fail() -> None:
        with writing(shelf) as session:
            write_slip(session, shop_on(shelf), a_judged_yarn(), an_order())
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()
    assert made(shelf).summary.number == 1


def test_a_form_sent_twice_makes_one_slip(shelf: Engine) -> None:
    first = made(shelf, request_key="once")
    again = made(shelf, request_key="once", staff="CD")
    assert again == first
    assert numbers(shelf) == [1]


@pytest.mark.parametrize("keys", [lambda n: None, lambda n: f"form-{n // 2}"])
def test_many_counters_leave_no_gap(shelf_url: str, keys: Callable[[int], str | None]) -> None:
    engines = [open_shelf(shelf_url) for _ in range(4)]

    def press(n: int) -> int:
        return made(engines[n % 4], request_key=keys(n)).summary.number

    with ThreadPoolExecutor(8) as counters:
        got = list(counters.map(press, range(24)))
    wanted = 24 if keys(0) is None else 12
    assert sorted(set(got)) == list(range(1, wanted + 1))
    assert sorted(numbers(engines[0])) == list(range(1, wanted + 1))
    for engine in engines:
        engine.dispose()


def test_found_by_number_by_day_and_by_name(shelf: Engine) -> None:
    made(shelf, customer_name="Zoë O'Hara-Ünal")
    made(shelf, on=date(2026, 11, 24))
    made(shelf, customer_name="100%_wool fan", on=date(2026, 11, 24))
    assert kept(shelf, 2).summary.made_on == date(2026, 11, 24)
    assert numbers(shelf, on=date(2026, 11, 24)) == [3, 2]
    assert numbers(shelf, name="o'HARA-üNAL") == [1]
    assert numbers(shelf, name="%") == [3]
    assert numbers(shelf, name="_") == [3]
    assert numbers(shelf, name="zoë", on=date(2026, 11, 24)) == []


def test_the_latest_fifty_are_found(shelf: Engine) -> None:
    made(shelf)
    made(shelf, branch="main", on=date(2026, 11, 24))
    with writing(shelf) as session:
        row = session.execute(select(*Slip.__table__.c).where(Slip.number == 2)).one()._asdict()
        del row["id"]
        session.execute(insert(Slip), [row | {"number": n} for n in range(3, 52)])
    assert numbers(shelf) == list(range(51, 1, -1))
    assert numbers(shelf, on=A_SLIP_DAY) == [1]


def test_a_name_or_staff_may_be_as_long_as_its_column(shelf: Engine) -> None:
    """120 letters of a customer, 60 of staff."""
    assert made(shelf, customer_name="x" * 120, staff="y" * 60).summary.customer_name == "x" * 120
    for facts in ({"customer_name": "x" * 121}, {"staff": "y" * 61}):
        with pytest.raises(SlipRefused):
            made(shelf, **facts)
    assert numbers(shelf) == [1]


def test_an_unknown_number_is_not_there(shelf: Engine) -> None:
    with reading(shelf) as session:
        assert slip(session, 7) is None


def test_a_reprint_has_the_same_bytes(shelf: Engine, monkeypatch: pytest.MonkeyPatch) -> None:
    first = made(shelf, customer_name="Mira", held_until=date(2026, 12, 9)).pdf()
    with writing(shelf) as session:
        save_settings(session, ShopSettings(shop_name="New name", language="de", paper="A6"))
    monkeypatch.setattr(
        translate, "text_of", lambda *_: catalog.Translation("en", ("another text",))
    )
    assert kept(shelf, 1).pdf() == first


def test_the_data_that_made_it_is_kept(shelf: Engine) -> None:
    before = made(shelf, customer_name="Mira")
    after = kept(shelf, 1)
    assert after == before
    assert after.choice == a_choice()
    assert after.ask_document == an_ask_document(title="Striped pullover")
    assert after.content.customer_name == "Mira"


def test_a_slip_can_be_said_in_another_language(shelf: Engine) -> None:
    made(shelf, customer_name="Mira")
    record = kept(shelf, 1)
    german = text_by_pypdf(record.pdf("roll-80", "de"))
    assert "Zuerst die Maschenprobe" in german
    assert "Mira" in german
    assert record.pdf(language=record.reader.language) == record.pdf()


def test_a_slip_in_a_language_without_texts_is_neither_made_nor_printed(shelf: Engine) -> None:
    with pytest.raises(SlipRefused, match="no texts in 'xx'; choose one of en, de, fr"):
        made(shelf, language="xx")
    record = made(shelf)
    assert record.summary.number == 1
    with pytest.raises(LanguageRefused):
        record.pdf(language="xx")


def test_a_flagged_caution_needs_to_be_told_and_stays_told(shelf: Engine) -> None:
    answer = an_answer(a_candidate(cautions=(a_caution("sleep", flag=True),)))
    with pytest.raises(CautionsNotTold, match="sleep"):
        made(shelf, answer)
    made(shelf, answer, choice=a_choice(told=("sleep",)))
    record = kept(shelf, 1)
    assert [(note.caution.code, note.told) for note in record.content.cautions] == [("sleep", True)]
    assert record.choice.told == {"sleep"}


def test_a_slip_is_superseded_and_stays_as_it_was(shelf: Engine) -> None:
    first = made(shelf)
    second = made(shelf, supersedes=1, choice=a_choice(6))
    assert second.summary.supersedes == 1
    assert "replaces slip 1" in text_by_pypdf(second.pdf())
    old = kept(shelf, 1)
    assert old.summary.superseded_by == 2
    assert old.pdf() == first.pdf()
    assert replace(old.summary, superseded_by=None) == first.summary


def test_a_slip_is_superseded_once_only(shelf: Engine) -> None:
    made(shelf)
    made(shelf, supersedes=1)
    with pytest.raises(SlipRefused, match="replace slip 2"):
        made(shelf, supersedes=1)
    with pytest.raises(SlipRefused, match="no slip 9"):
        made(shelf, supersedes=9)
    assert made(shelf, supersedes=2).summary.number == 3


def test_a_slip_is_never_edited_or_deleted(shelf: Engine) -> None:
    made(shelf)
    with pytest.raises(SlipIsKept), writing(shelf) as session:
        session.scalars(select(Slip)).one().staff = "XY"
    with pytest.raises(SlipIsKept), writing(shelf) as session:
        session.delete(session.scalars(select(Slip)).one())
    for other in ({}, {"title": "another"}):
        with pytest.raises(SlipIsKept), writing(shelf) as session:
            session.scalars(select(Slip)).one().ask = other
    assert kept(shelf, 1).summary.staff == "AB"


def test_a_forgotten_customer_stands_nowhere(shelf: Engine) -> None:
    made(shelf, customer_name="Mirabelle")
    forget_customer_of_slip(shop_on(shelf), 1)
    record = kept(shelf, 1)
    assert record.summary.customer_name is None
    assert "Mirabelle" not in text_by_pypdf(record.pdf())
    with reading(shelf) as session:
        row = session.execute(text("SELECT * FROM slip")).one()
    assert "mirabelle" not in str(tuple(row)).casefold()
    assert numbers(shelf, name="mira") == []


@pytest.mark.parametrize(("field", "most"), [("customer_name", 120), ("staff", 60)])
def test_names_that_are_too_long_are_refused(shelf: Engine, field: str, most: int) -> None:
    with pytest.raises(SlipRefused, match=f"at most {most}"):
        made(shelf, **{field: "x" * (most + 1)})
    made(shelf, **{field: "x" * most})


def test_characters_that_databases_refuse_are_kept_visible(shelf: Engine) -> None:
    made(shelf, customer_name="a\x00b\ud800", staff="\u202eAB")
    assert kept(shelf, 1).summary.customer_name == "a[U+0000]b[U+D800]"
    assert kept(shelf, 1).summary.staff == "[U+202E]AB"


def test_a_branch_with_slips_cannot_go(shelf: Engine) -> None:
    made(shelf)
    with pytest.raises(Exception, match=r"(?i)foreign key"), writing(shelf) as session:
        session.execute(delete(Branch))
