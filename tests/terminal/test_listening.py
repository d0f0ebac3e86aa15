"""Which addresses and names a counter takes, and when a passphrase must be set first."""

import io
from pathlib import Path

import pytest
from click.testing import CliRunner

from shopdesk.shop.location import find_place
from shopdesk.shop.passphrase import keep_passphrase, kept_passphrase, new_passphrase
from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.listening import is_loopback, names_answered_to, require_passphrase
from shopdesk.terminal.main import main

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


def test_the_verb_sets_and_removes_the_passphrase(tmp_path: Path) -> None:
    place = find_place(str(tmp_path / "shop"), {})
    done = CliRunner().invoke(main, ["passphrase"], input=f"{TYPED}\n")
    assert done.exit_code == 0
    assert TYPED not in done.output
    kept = kept_passphrase(place)
    assert kept is not None
    assert kept.fits(TYPED)
    assert CliRunner().invoke(main, ["passphrase", "--remove"]).exit_code == 0
    assert kept_passphrase(place) is None


@pytest.mark.parametrize("given", [b"", b"short\n", b"\xff\xfe\n", b"aaaaaaaaaaaaaaaa\n"])
def test_a_weak_passphrase_changes_nothing(given: bytes, tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["passphrase"], input=io.BytesIO(given))
    assert done.exit_code == 2
    assert done.stderr.startswith("shopdesk: ")
    assert kept_passphrase(find_place(str(tmp_path / "shop"), {})) is None
