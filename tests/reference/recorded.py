"""A copy of all values that have no publication (from memory, from practice, of our deriving).

It proves nothing about the world; it makes a slip of the pen fail a test. After a change that is
meant: python -m tests.reference.recorded
"""

from pathlib import Path

from tests.reference.published import DESCRIBING, OUR_OWN, Rows

RECORDED = Path(__file__).parent / "recorded"


def unpublished(rows: Rows) -> str:
    """Returns the rows that are not marked S as lines of 'value | value'.

    Of rows marked S it has what we chose ourselves, beside the first column.
    """
    columns = [column for column in rows[0] if column not in DESCRIBING]
    ours = [column for column in columns if column in OUR_OWN]
    of_published = [columns[0], *ours] if ours else []
    kept = [(row, of_published if row["status"] == "S" else columns) for row in rows]
    lines = [" | ".join(row[name] for name in names) for row, names in kept if names]
    return "".join(f"{line}\n" for line in [" | ".join(columns), *lines]) if lines else ""


def recorded(table: str) -> str:
    """Returns what was recorded of a table; empty if nothing was."""
    path = RECORDED / f"{table}.txt"
    return path.read_text(encoding="utf-8") if path.is_file() else ""


def _record_all() -> None:
    from importlib.resources import files

    from shopdesk.reference.tables import table

    RECORDED.mkdir(exist_ok=True)
    for old in RECORDED.glob("*.txt"):
        old.unlink()
    for entry in files("shopdesk.reference").iterdir():
        if entry.name.endswith(".csv"):
            name = entry.name.removesuffix(".csv")
            text = unpublished(table(name))
            if text:
                (RECORDED / f"{name}.txt").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    _record_all()
