"""`shopdesk serve`: the addresses and names it takes, set-up, and what stops it in one line."""

import json
import socket
import sqlite3
from contextlib import closing
from pathlib import Path
from urllib.error import HTTPError

import pytest
from click.testing import CliRunner

from shopdesk.shop.location import find_place
from shopdesk.shop.passphrase import keep_passphrase, new_passphrase
from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.main import main
from shopdesk.terminal.serve import is_loopback, names_answered_to, require_passphrase
from tests.terminal.running import served, shopdesk

TYPED = "purl ladder otter eleven"


@pytest.mark.parametrize("host", ["127.0.0.1", "127.3.2.1", "::1", "localhost"])
def test_loopback_needs_no_passphrase(host: str, tmp_path: Path) -> None:
    require_passphrase(find_place(str(tmp_path), {}), host)
    assert is_loopback(host)


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.168.1.20", "10.0.0.1", "fe80::1"])
def test_other_addresses_need_one(host: str, tmp_path: Path) -> None:
    place = find_place(str(tmp_path), {})
    with pytest.raises(BadUsage, match="shopdesk passphrase"):
        require_passphrase(place, host)
    keep_passphrase(place, new_passphrase(TYPED))
    require_passphrase(place, host)


@pytest.mark.parametrize("host", ["", "shop.example", "127.0.0.1:80", "1.2.3", "localhost.x"])
def test_what_is_no_address_is_refused(host: str) -> None:
    with pytest.raises(BadUsage, match="is no address"):
        is_loopback(host)


def test_the_names_are_loopback_the_address_and_those_that_are_given() -> None:
    names = names_answered_to("192.168.1.20", ["shop-pc", "fd00::5"])
    assert names[-3:] == ("192.168.1.20", "shop-pc", "[fd00::5]")
    assert "localhost" in names


@pytest.mark.parametrize("host", ["0.0.0.0", "::"])
def test_every_address_wants_a_name(host: str) -> None:
    with pytest.raises(BadUsage, match="--name"):
        names_answered_to(host, [])
    assert names_answered_to(host, ["shop-pc"])[-1] == "shop-pc"


@pytest.mark.parametrize(
    "name", ["", "*", "a b", "http://shop.example", "shop/", "shop:80", "ä", ".", "x."]
)
def test_what_is_no_name_is_refused(name: str) -> None:
    with pytest.raises(BadUsage, match="--name"):
        names_answered_to("127.0.0.1", [name])


def count_yarns(folder: Path) -> int:
    with closing(sqlite3.connect(folder / "shopdesk.sqlite3")) as opened:
        found: int = opened.execute("SELECT count(*) FROM yarn").fetchone()[0]
        return found


@pytest.mark.slow
def test_a_new_shop_is_set_up_with_the_demo_and_served(tmp_path: Path) -> None:
    with served() as counter:
        assert "Set up a new shop with the demo catalogue" in counter.printed
        assert counter.address.startswith("http://127.0.0.1:")
        assert "<h1" in counter.page()
    assert counter.process.returncode == 0
    assert count_yarns(tmp_path / "shop") >= 80


@pytest.mark.slow
def test_a_shop_stays_as_it_was_left(tmp_path: Path) -> None:
    with served("--no-demo") as counter:
        assert "with an empty shelf" in counter.printed
    with served() as counter:
        assert "Set up" not in counter.printed
    assert count_yarns(tmp_path / "shop") == 0


@pytest.mark.slow
def test_a_port_in_use_is_one_clear_line() -> None:
    with closing(socket.create_server(("127.0.0.1", 0))) as other:
        port = other.getsockname()[1]
        done = shopdesk("serve", "--no-demo", "--port", str(port))
    assert done.returncode == 1
    told = done.stderr.decode()
    assert told.count("\n") == 1
    assert f"port {port} is in use" in told


@pytest.mark.slow
@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.168.1.20", "shop.example", ""])
def test_other_addresses_than_loopback_are_refused(host: str, tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["serve", "--host", host])
    assert done.exit_code == 2
    assert done.stderr.startswith("shopdesk: --host: ")
    assert done.stderr.count("\n") == 1
    assert not (tmp_path / "shop").exists()


@pytest.mark.slow
@pytest.mark.parametrize("port", ["-1", "65536", "abc", "80 80", "1e3", ""])
def test_a_port_that_is_none_is_refused(port: str) -> None:
    assert CliRunner().invoke(main, ["serve", "--port", port]).exit_code == 2


@pytest.mark.slow
def test_a_broken_database_is_one_clear_line(tmp_path: Path) -> None:
    (tmp_path / "shop").mkdir()
    (tmp_path / "shop" / "shopdesk.sqlite3").write_bytes(b"no database" * 999)
    done = shopdesk("serve")
    assert done.returncode == 1
    assert done.stdout == b""
    told = done.stderr.decode()
    assert told.count("\n") == 1
    assert "is not a database" in told


@pytest.mark.slow
def test_a_database_of_a_newer_version_is_refused(tmp_path: Path) -> None:
    with served("--no-demo"):
        pass
    file = tmp_path / "shop" / "shopdesk.sqlite3"
    with closing(sqlite3.connect(file)) as opened, opened:
        opened.execute("UPDATE alembic_version SET version_num = '9999'")
    done = shopdesk("serve")
    assert done.returncode == 1
    assert done.stderr.decode().count("\n") == 1
    assert "newer version" in done.stderr.decode()


@pytest.mark.slow
def test_a_data_folder_that_is_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    done = shopdesk("--data", tmp_path / "file", "serve")
    assert done.returncode == 1
    assert "is a file" in done.stderr.decode()


@pytest.mark.slow
def test_a_foreign_host_name_gets_no_page() -> None:
    with served("--no-demo") as counter:
        port = int(counter.address.rstrip("/").rpartition(":")[2])
        with closing(socket.create_connection(("127.0.0.1", port))) as line:
            line.sendall(b"GET / HTTP/1.0\r\nHost: shop.example\r\n\r\n")
            reply = line.makefile("rb").readline()
    assert b" 400 " in reply


@pytest.mark.slow
def test_a_backup_is_made_at_the_start_of_the_day(tmp_path: Path) -> None:
    with served("--backups-kept", "3") as counter:
        counter.page()
    assert counter.process.returncode == 0
    assert len(list((tmp_path / "shop" / "backups").iterdir())) == 1
    with served("--backups-kept", "3"):
        pass
    assert len(list((tmp_path / "shop" / "backups").iterdir())) == 1


@pytest.mark.slow
def test_no_backup_is_made_if_none_is_to_be_kept(tmp_path: Path) -> None:
    with served("--no-demo", "--backups-kept", "0"):
        pass
    assert not (tmp_path / "shop" / "backups").exists()


@pytest.mark.slow
def test_a_fault_while_serving_is_a_page_and_a_line_in_the_log(tmp_path: Path) -> None:
    with served("--no-demo", "--backups-kept", "0") as counter:
        file = tmp_path / "shop" / "shopdesk.sqlite3"
        with closing(sqlite3.connect(file)) as opened, opened:
            opened.execute("ALTER TABLE setting RENAME TO elsewhere")
        with pytest.raises(HTTPError) as refused:
            counter.page("settings?said=Lindqvist")
        page = refused.value.read().decode()
    assert refused.value.code >= 500
    assert "Traceback" not in page
    assert "Nothing was changed" in page
    log = (tmp_path / "shop" / "shopdesk.log").read_text()
    (entry,) = map(json.loads, log.splitlines())
    assert entry["event"] == "fault"
    assert entry["where"] == "settings.settings"
    assert "sqlalchemy.exc.OperationalError" in [error["kind"] for error in entry["errors"]]
    assert "Lindqvist" not in log
