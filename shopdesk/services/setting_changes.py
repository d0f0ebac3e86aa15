"""Saving the shop's settings, whole or not at all, and never over somebody else's change."""

import hashlib
from collections.abc import Mapping

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.shop.shop import Shop
from shopdesk.store.settings import ShopSettings, load_settings, read_settings
from shopdesk.store.settings import save_settings as keep


class SettingsChanged(InputError):
    """Somebody else changed the settings since they were looked at; `seen` tells them now."""

    def __init__(self, present: ShopSettings) -> None:
        super().__init__(
            message("problem_visit.settings_changed"), message("problem_visit.look_again")
        )
        self.seen = fingerprint(present)


def save_settings(shop: Shop, texts: Mapping[str, str], seen: str) -> None:
    """Saves settings as texts by their names, unless they are not any more as they were `seen`.

    Raises SettingsChanged, and SettingsRefused with every problem by its setting's name.
    """
    with shop.write() as session:
        before = load_settings(session)
        if seen != fingerprint(before):
            raise SettingsChanged(before)
        keep(session, read_settings(texts, before))


def fingerprint(settings: ShopSettings) -> str:
    """Returns a text that differs whenever a setting does."""
    said = "\n".join(f"{name}={text}" for name, text in settings.texts().items())
    return hashlib.sha256(said.encode()).hexdigest()
