"""The staff's passphrase: kept as a scrypt hash in the data folder, never as it was typed."""

import hashlib
import hmac
import os
import secrets
import unicodedata
from dataclasses import dataclass
from pathlib import Path

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.shop.location import DataFolderRefused, DataLocation, prepare

PASSPHRASE_FILE = "passphrase"
FEWEST_LETTERS = 12
MOST_LETTERS = 200
FEWEST_DIFFERENT = 5
# One of the equal settings of the OWASP Password Storage Cheat Sheet (from memory): 32 MiB.
COST, BLOCK, LANES = 2**15, 8, 3
SALT_BYTES = 16
HASH_BYTES = 64
SPARE_BYTES = 2**20


class PassphraseRefused(InputError):
    """A new passphrase that is too weak or too long."""


class PassphraseDamaged(RuntimeError):
    """The file that keeps the passphrase cannot be read; the message says which and what to do."""


@dataclass(frozen=True, slots=True)
class Passphrase:
    """A kept passphrase: the scrypt settings (RFC 7914), its salt, and the hash."""

    cost: int
    block: int
    lanes: int
    salt: str
    hash: str

    def fits(self, typed: str) -> bool:
        """True if this is the passphrase. Takes about a quarter of a second, and 32 MiB."""
        made = _scrypt(typed, self.salt, self.cost, self.block, self.lanes)
        return hmac.compare_digest(made, self.hash)

    def __str__(self) -> str:
        return f"scrypt:{self.cost}:{self.block}:{self.lanes}${self.salt}${self.hash}"


def new_passphrase(typed: str) -> Passphrase:
    """Returns what is kept of a new passphrase. Raises PassphraseRefused for a weak one."""
    if len(typed) < FEWEST_LETTERS or len(set(typed)) < FEWEST_DIFFERENT:
        write = message("problem_form.write_long", count=FEWEST_LETTERS)
        raise PassphraseRefused(message("problem_form.too_easy"), write)
    if len(typed) > MOST_LETTERS:
        write = message("problem_form.letters_at_most", count=MOST_LETTERS)
        raise PassphraseRefused(message("problem_ask.too_long_text"), write)
    salt = secrets.token_hex(SALT_BYTES)
    return Passphrase(COST, BLOCK, LANES, salt, _scrypt(typed, salt, COST, BLOCK, LANES))


def keep_passphrase(place: DataLocation, passphrase: Passphrase) -> Path:
    """Puts it in the place of the one before, in a file of mode 600. Raises DataFolderRefused."""
    prepare(place)
    path = place.folder / PASSPHRASE_FILE
    draft = path.with_name(f"{path.name}.{os.getpid()}.{secrets.token_hex(4)}")
    try:
        handle = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w", encoding="ascii") as opened:
            opened.write(f"{passphrase}\n")
            opened.flush()
            os.fsync(opened.fileno())
        draft.replace(path)
    except OSError as error:
        draft.unlink(missing_ok=True)
        raise DataFolderRefused(f"{path} cannot be written ({error.strerror}).") from error
    return path


def remove_passphrase(place: DataLocation) -> bool:
    """Takes the passphrase away; returns whether there was one. Raises DataFolderRefused."""
    path = place.folder / PASSPHRASE_FILE
    try:
        path.unlink()
    except FileNotFoundError:
        return False
    except OSError as error:
        raise DataFolderRefused(f"{path} cannot be removed ({error.strerror}).") from error
    return True


def kept_passphrase(place: DataLocation) -> Passphrase | None:
    """Returns the passphrase that is kept, or None. Raises PassphraseDamaged."""
    path = place.folder / PASSPHRASE_FILE
    try:
        text = path.read_text(encoding="ascii").strip()
    except FileNotFoundError:
        return None
    except (OSError, ValueError):
        raise PassphraseDamaged(f"{path} cannot be read; set the passphrase anew") from None
    try:
        settings, salt, made = text.split("$")
        kind, cost, block, lanes = settings.split(":")
        if kind != "scrypt" or len(made) != 2 * HASH_BYTES:
            raise ValueError(kind)
        return Passphrase(int(cost), int(block), int(lanes), salt, made)
    except ValueError:
        raise PassphraseDamaged(f"{path} is damaged; set the passphrase anew") from None


def _scrypt(typed: str, salt: str, cost: int, block: int, lanes: int) -> str:
    """Returns the hash in hex; letters that look the same count as the same (NFKC)."""
    letters = unicodedata.normalize("NFKC", typed).encode()
    room = 132 * cost * block * lanes + SPARE_BYTES
    return hashlib.scrypt(
        letters, salt=salt.encode(), n=cost, r=block, p=lanes, maxmem=room, dklen=HASH_BYTES
    ).hex()
