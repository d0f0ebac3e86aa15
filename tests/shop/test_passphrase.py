"""The staff's passphrase: the hash against published vectors and a second reader, and its file."""

from pathlib import Path

import pytest
from werkzeug.security import check_password_hash

from shopdesk.shop.location import DataFolderRefused, DataLocation, find_place
from shopdesk.shop.passphrase import (
    FEWEST_LETTERS,
    MOST_LETTERS,
    Passphrase,
    PassphraseDamaged,
    PassphraseRefused,
    keep_passphrase,
    kept_passphrase,
    new_passphrase,
    remove_passphrase,
)

TYPED = "purl ladder otter eleven"
# RFC 7914, section 12, second and third test vector.
RFC_7914 = [
    (
        "password",
        Passphrase(
            1024,
            8,
            16,
            "NaCl",
            "fdbabe1c9d3472007856e7190d01e9fe7c6ad7cbc8237830e77376634b373162"
            "2eaf30d92e22a3886ff109279d9830dac727afb94a83ee6d8360cbdfa2cc0640",
        ),
    ),
    (
        "pleaseletmein",
        Passphrase(
            16384,
            8,
            1,
            "SodiumChloride",
            "7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2"
            "d5432955613f0fcf62d49705242a9af9e61e85dc0d651e40dfcf017b45575887",
        ),
    ),
]


@pytest.fixture
def place(tmp_path: Path) -> DataLocation:
    return find_place(str(tmp_path / "shop"), {})


@pytest.mark.parametrize(("typed", "kept"), RFC_7914)
def test_the_hash_is_scrypt_as_published(typed: str, kept: Passphrase) -> None:
    assert kept.fits(typed)
    assert not kept.fits(typed + " ")


def test_a_second_reader_takes_what_is_kept(place: DataLocation) -> None:
    # Werkzeug writes and reads the same form of text.
    file = keep_passphrase(place, new_passphrase(TYPED))
    assert check_password_hash(file.read_text().strip(), TYPED)


def test_the_file_is_for_this_user_only_and_does_not_hold_what_was_typed(
    place: DataLocation,
) -> None:
    file = keep_passphrase(place, new_passphrase(TYPED))
    assert file.stat().st_mode & 0o777 == 0o600
    assert TYPED not in file.read_text()
    assert [each.name for each in place.folder.iterdir()] == [file.name]


def test_the_one_before_no_longer_fits(place: DataLocation) -> None:
    keep_passphrase(place, new_passphrase(TYPED))
    keep_passphrase(place, new_passphrase("another one altogether"))
    kept = kept_passphrase(place)
    assert kept is not None
    assert kept.fits("another one altogether")
    assert not kept.fits(TYPED)


def test_letters_that_look_the_same_are_the_same() -> None:
    # Unicode: é as one character and as e with a combining accent.
    assert new_passphrase("caf\u00e9 ladder otter").fits("cafe\u0301 ladder otter")


def test_two_equal_passphrases_are_kept_differently() -> None:
    assert new_passphrase(TYPED).hash != new_passphrase(TYPED).hash


@pytest.mark.parametrize(
    "typed", ["", "x" * (FEWEST_LETTERS - 1), "abab" * 9, "x" * 40, TYPED * (MOST_LETTERS // 9)]
)
def test_what_is_easy_to_guess_or_endless_is_refused(typed: str) -> None:
    with pytest.raises(PassphraseRefused, match="write"):
        new_passphrase(typed)


def test_none_is_none(place: DataLocation) -> None:
    assert kept_passphrase(place) is None
    assert not remove_passphrase(place)
    keep_passphrase(place, RFC_7914[0][1])
    assert remove_passphrase(place)
    assert kept_passphrase(place) is None


@pytest.mark.parametrize("content", [b"", b"scrypt:1:2$x", b"plain:1:1:1$a$b", b"\xff\xfe", b"$$"])
def test_a_damaged_file_shuts_and_says_so(place: DataLocation, content: bytes) -> None:
    keep_passphrase(place, RFC_7914[0][1]).write_bytes(content)
    with pytest.raises(PassphraseDamaged, match="set the passphrase anew"):
        kept_passphrase(place)


def test_a_folder_that_takes_no_file_is_told(place: DataLocation) -> None:
    (place.folder / "passphrase").mkdir(parents=True)
    with pytest.raises(DataFolderRefused, match="cannot be written"):
        keep_passphrase(place, RFC_7914[0][1])
