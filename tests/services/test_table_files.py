"""Tables in and out: the imports that were made, uploads by their token, and what is no table."""

from pathlib import Path

import pytest
from sqlalchemy import Engine, insert

from shopdesk.craft.errors import InputError
from shopdesk.exchange.importing import Source
from shopdesk.exchange.lines import FileDefaults
from shopdesk.services.table_files import (
    ImportsMade,
    UploadUnknown,
    choose_columns,
    export_table,
    find_upload,
    import_of_upload,
    list_imports,
    look_at_upload,
    take_in_table,
    take_in_upload,
    undo_import,
    upload_headings,
    upload_table,
)
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.models import ImportRun
from shopdesk.store.types import now

YARNS = b"sku,name,price\nT-1,Plain,5\n"


def upload(shop: Shop, content: bytes = YARNS) -> str:
    return upload_table(shop, "yarns", "y.csv", content, FileDefaults())


def test_the_latest_twenty_imports_are_listed(shelf: Engine) -> None:
    shop = Shop(shelf)
    assert list_imports(shop) == ImportsMade((), None)
    run = {
        "kind": "stock",
        "file_name": "s.csv",
        "at": now(),
        "made": 1,
        "changed": 2,
        "unchanged": 3,
    }
    with writing(shelf) as session:
        session.execute(insert(ImportRun), [run] * 21)
    made = list_imports(shop)
    assert [one.id for one in made.runs] == list(range(21, 1, -1))
    assert made.last == made.runs[0]
    assert (made.runs[0].made, made.runs[0].changed, made.runs[0].unchanged) == (1, 2, 3)


def test_an_upload_is_taken_in_once_and_found_by_its_token(shelf: Engine) -> None:
    shop = Shop(shelf)
    token, other = upload(shop), upload(shop)
    assert import_of_upload(shop, token) is None
    assert take_in_upload(shop, find_upload(shop, token)).new == 1
    made = import_of_upload(shop, token)
    assert made is not None
    assert [one.file_name for one in made.runs] == ["y.csv"]
    assert made.last == made.runs[0]
    assert import_of_upload(shop, other) is None
    assert look_at_upload(shop, find_upload(shop, other)).unchanged == 1
    undo_import(shop)
    undone = import_of_upload(shop, token)
    assert undone is not None
    assert undone.last is None
    assert undone.runs[0].undone_at is not None


def test_an_upload_that_is_not_kept_is_told(shelf: Engine) -> None:
    with pytest.raises(UploadUnknown):
        find_upload(Shop(shelf), "never")


def test_what_is_said_of_a_heading_stays_with_the_upload(shelf: Engine) -> None:
    shop = Shop(shelf)
    token = upload(shop, b"Nr,name,price,Huh\nT-1,Plain,5,x\n")
    choose_columns(shop, find_upload(shop, token), {"Nr": "sku"})
    choose_columns(shop, find_upload(shop, token), {"Huh": "notes"})
    headings = upload_headings(shop, find_upload(shop, token))
    assert headings == (("Nr", "sku"), ("name", "name"), ("price", "price"), ("Huh", "notes"))
    assert upload_headings(shop, find_upload(shop, upload(shop, b"%PDF-1.7"))) == ()


def test_what_is_no_table_of_ours_is_told_in_40_letters(shelf: Engine, tmp_path: Path) -> None:
    shop = Shop(shelf)
    with pytest.raises(InputError) as refused:
        export_table(shop, "x" * 41)
    assert refused.value.wrong == f"there is no table of {'x' * 40}"
    path = tmp_path / "y.csv"
    path.write_bytes(YARNS)
    assert take_in_table(shop, Source(path, "y.csv", "yarns")).new == 1
    assert "".join(export_table(shop, "yarns")).count("T-1") == 1
