"""Finds the folders that ship beside the package: templates, static and seed_catalog."""

from functools import cache
from pathlib import Path

FOLDERS = ("templates", "static", "seed_catalog")


class BundledFoldersMissing(RuntimeError):
    """Neither an installed package nor a checkout holds the shipped folders."""


@cache
def bundled_root() -> Path:
    """Returns the folder that holds the shipped folders, in a wheel or a checkout."""
    package = Path(__file__).resolve().parent
    for root in (package / "_bundled", package.parent):
        if all((root / name).is_dir() for name in FOLDERS):
            return root
    raise BundledFoldersMissing(
        f"Shopdesk's folders {', '.join(FOLDERS)} are missing; install it again."
    )


def bundled(name: str) -> Path:
    """Returns the path of one shipped folder or of a file below it, such as 'static/fonts'."""
    return bundled_root() / name
