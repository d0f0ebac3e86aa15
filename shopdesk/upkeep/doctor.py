"""What `shopdesk doctor` looks at: each finding says whether it is well, in words."""

import shutil
import sqlite3
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from importlib.metadata import version
from pathlib import Path
from zoneinfo import available_timezones

from shopdesk import __version__
from shopdesk.bundled import BundledFoldersMissing, bundled
from shopdesk.craft.deviations import Calibration
from shopdesk.shop.location import SECRET_FILE, DataLocation
from shopdesk.shop.passphrase import PASSPHRASE_FILE, PassphraseDamaged, kept_passphrase
from shopdesk.store.faults import ShelfFault
from shopdesk.upkeep.backup import last_backup_at, unsound

LIBRARIES = ("flask", "sqlalchemy", "alembic", "reportlab", "waitress")
FONTS = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")
LEAST_FREE_BYTES = 200_000_000
BACKUP_OLD_AFTER = timedelta(days=2)
OTHERS_MAY = 0o077


@dataclass(frozen=True, slots=True)
class CheckResult:
    """One thing looked at, whether it is as it should be, and what was seen."""

    what: str
    well: bool
    seen: str


def check_up(place: DataLocation) -> Iterator[CheckResult]:
    """Yields the findings on one shop. Changes nothing."""
    for what, look in CHECKS.items():
        try:
            well, seen = look(place)
        except (ShelfFault, PassphraseDamaged, OSError, BundledFoldersMissing) as fault:
            well, seen = False, str(fault)
        yield CheckResult(what, well, seen)


def _versions(_place: DataLocation) -> tuple[bool, str]:
    python = ".".join(str(part) for part in sys.version_info[:3])
    libraries = ", ".join(f"{name} {version(name)}" for name in LIBRARIES)
    seen = f"Shopdesk {__version__}, Python {python}, SQLite {sqlite3.sqlite_version}, {libraries}"
    return True, seen


def _folder(place: DataLocation) -> tuple[bool, str]:
    if not place.folder.is_dir():
        return False, f"{place.folder} does not exist; `shopdesk serve` makes it"
    mode = place.folder.stat().st_mode
    return True, f"{place.folder}{', which others may read' if mode & OTHERS_MAY else ''}"


def _secret(place: DataLocation) -> tuple[bool, str]:
    if not (place.folder / SECRET_FILE).exists():
        return True, "not made yet; `shopdesk serve` makes it"
    return _private(place.folder / SECRET_FILE)


def _passphrase(place: DataLocation) -> tuple[bool, str]:
    if kept_passphrase(place) is None:
        return True, "none is set; the counter can be served on loopback only"
    return _private(place.folder / PASSPHRASE_FILE)


def _private(file: Path) -> tuple[bool, str]:
    mode = file.stat().st_mode & 0o777
    if mode & OTHERS_MAY:
        return False, f"{file} has mode {mode:03o}; others may read it, set it to 600"
    return True, f"{file}, for this user only"


def _schema(place: DataLocation) -> tuple[bool, str]:
    from shopdesk.store.database import open_shelf
    from shopdesk.store.upgrading import HEAD, check_version

    file = place.database_file
    if file is not None and not file.exists():
        return False, f"there is no database at {file}; `shopdesk serve` sets one up"
    engine = open_shelf(place.url)
    try:
        check_version(engine)
    finally:
        engine.dispose()
    return True, f"{place.shown_url}, schema {HEAD}"


def _summaries(place: DataLocation) -> tuple[bool, str]:
    """Whether a large shelf's answers look through what labels and measurements say now."""
    from shopdesk.shelf.yarn_index import index_is_current, stale_index_rows
    from shopdesk.shop.shop import ShopMissing, opened_shop

    try:
        with opened_shop(place) as shop, shop.read() as session:
            if not index_is_current(session):
                return True, "made by another version; `shopdesk serve` writes them again"
            stale = stale_index_rows(session)
    except (ShelfFault, ShopMissing):
        return True, "not looked at without a database"
    if stale:
        return False, f"not as their yarns are: {', '.join(stale)}; change and save those yarns"
    return True, "as their yarns are"


def _calibration(place: DataLocation) -> tuple[bool, str]:
    """How the swatches that came back lie beside what was stated of their yarns before."""
    from shopdesk.services.calibration import shop_calibration
    from shopdesk.shop.shop import ShopMissing, opened_shop

    try:
        with opened_shop(place) as shop:
            found = shop_calibration(shop)
    except (ShelfFault, ShopMissing):
        return True, "not looked at without a database"
    told = [
        f"{kind}: {_in_range(of_kind)}"
        for kind, of_kind in (("asked for or ours", found.asked), ("unasked", found.unasked))
        if of_kind is not None
    ]
    return True, "; ".join(told) or "no swatch yet that can be compared"


def _in_range(found: Calibration) -> str:
    percent, way = abs(found.mean_share) * 100, "more" if found.mean_share >= 0 else "fewer"
    return f"{found.inside} of {found.count} in range, {percent:.1f}% {way} stitches on average"


def _integrity(place: DataLocation) -> tuple[bool, str]:
    file = place.database_file
    if file is None:
        return True, "kept by the database server"
    if not file.exists():
        return False, "there is no database"
    wrong = unsound(file)
    return wrong is None, wrong or "passes SQLite's checks"


def _free_disk(place: DataLocation) -> tuple[bool, str]:
    folder = next(each for each in (place.folder, *place.folder.parents) if each.exists())
    free = shutil.disk_usage(folder).free
    return free >= LEAST_FREE_BYTES, f"{free / 1e6:,.0f} MB free at {folder}"


def _last_backup(place: DataLocation) -> tuple[bool, str]:
    if place.database_file is None:
        return True, "made with the database server's own tools"
    last = last_backup_at(place)
    if last is None:
        return False, "none yet; `shopdesk backup` makes one, `shopdesk serve` one a day"
    return datetime.now(UTC) - last < BACKUP_OLD_AFTER, f"{last.isoformat(sep=' ')}"


def _fonts(_place: DataLocation) -> tuple[bool, str]:
    folder: Path = bundled("static") / "fonts"
    lacking = [name for name in FONTS if not (folder / name).is_file()]
    return not lacking, f"{', '.join(lacking)} missing" if lacking else f"{', '.join(FONTS)}"


def _time_zone(_place: DataLocation) -> tuple[bool, str]:
    local = datetime.now().astimezone()
    return bool(available_timezones()), f"{local.tzname()}, now {local.isoformat(' ', 'minutes')}"


CHECKS: dict[str, Callable[[DataLocation], tuple[bool, str]]] = {
    "versions": _versions,
    "data folder": _folder,
    "secrets file": _secret,
    "passphrase": _passphrase,
    "database": _schema,
    "summaries": _summaries,
    "swatches": _calibration,
    "integrity": _integrity,
    "free disk": _free_disk,
    "last backup": _last_backup,
    "fonts": _fonts,
    "time zone": _time_zone,
}
