"""The corpus of invented headers: reading its files, and comparing a reading with what is expected.

Each file is a header, a dividing line, and the fields a knitter reads in it. `name: value` must
be read so; `name?: a | b` has two readings that must both be offered and neither be sure;
`maybe name: value` may be read, but if so only like that; `says: code` is a contradiction that
must be said. A field that stands in no line must not be read.
"""

import hashlib
from dataclasses import dataclass, field
from pathlib import Path

from shopdesk.patterns.fields.deciding import FieldReading
from shopdesk.patterns.phrases.mentions import Sureness, Value, WordList, shown
from shopdesk.patterns.reading import PatternReading

FOLDER = Path(__file__).parent / "corpus"
DIVIDER = "=== what a knitter reads ==="


@dataclass
class Header:
    """One text of the corpus."""

    name: str
    text: str
    layout: str = ""
    expected: dict[str, list[str]] = field(default_factory=dict)
    open: dict[str, list[str]] = field(default_factory=dict)
    maybe: dict[str, list[str]] = field(default_factory=dict)
    says: list[str] = field(default_factory=list)

    @property
    def only_to_measure(self) -> bool:
        """True for the third of the texts, by a hash of the name, that is never built with."""
        return hashlib.sha256(self.name.encode()).digest()[0] % 3 == 0


def headers() -> list[Header]:
    """Returns every text of the corpus, in order of name."""
    return [_header(path) for path in sorted(FOLDER.glob("*.txt"))]


def _header(path: Path) -> Header:
    text, _, lines = path.read_text(encoding="utf-8").partition(f"\n{DIVIDER}\n")
    header = Header(path.stem, text)
    expect(header, lines.splitlines())
    return header


def expect(header: Header, lines: list[str]) -> None:
    """Fills the expectations from lines such as 'stitches: 22'."""
    for line in lines:
        name, _, value = line.partition(": ")
        if name == "layout":
            header.layout = value
        elif name == "says":
            header.says.append("intake." + value.strip().replace("-", "_"))
        elif name.startswith("maybe "):
            header.maybe.setdefault(_field(name[6:]), []).append(_plain(name[6:], value))
        elif "?" in name:
            known = _field(name.replace("?", ""))
            header.open[known] = [_plain(known, part) for part in value.split(" | ")]
        else:
            header.expected.setdefault(_field(name), []).append(_plain(name, value))


def _field(name: str) -> str:
    first, _, rest = name.partition(" ")
    return f"amount {rest}" if first in ("balls", "mass", "amount") else name


def _plain(name: str, value: str) -> str:
    value = value.strip()
    if name.startswith("balls "):
        return f"{value} balls"
    if name == "fibres":
        return " | ".join(sorted(part.strip() for part in value.split(",")))
    if name in ("features", "attributes"):
        return " | ".join(sorted(part.strip() for part in value.split(",")))
    if name == "sizes":
        return " | ".join(_size(part) for part in value.split(" | "))
    return value


def _size(name: str) -> str:
    words = ("years", "year", "months", "mos", "mois", "ans")
    return " ".join(word for word in name.casefold().split() if word not in words)


def written(name: str, value: Value) -> str:
    """Returns a value read as the corpus writes it."""
    if isinstance(value, WordList):
        if name == "sizes":
            return " | ".join(_size(str(item)) for item in value.items)
        if name == "weight":
            return str(value)
        return " | ".join(sorted(str(item) for item in value.items))
    return shown(value)


@dataclass
class Score:
    """How one text was read, field by field."""

    right: dict[str, Sureness] = field(default_factory=dict)
    wrong: dict[str, tuple[Sureness, str, str]] = field(default_factory=dict)
    missing: dict[str, str] = field(default_factory=dict)


def score(header: Header, reading: PatternReading) -> Score:
    """Compares a reading with what is expected."""
    result = Score()
    read = {each.name: each for each in reading.readings}
    for name, values in header.expected.items():
        _compare(result, name, values + header.maybe.get(name, []), read.get(name))
    for name, values in header.open.items():
        _compare_open(result, name, values, read.get(name), header.maybe.get(name, []))
    for name, found in read.items():
        if name in header.expected or name in header.open:
            continue
        value = written(name, found.value)
        if name in header.maybe:
            if value not in header.maybe[name] and found.sure is not Sureness.UNCLEAR:
                result.wrong[name] = (found.sure, value, header.maybe[name][0])
        elif found.sure is not Sureness.UNCLEAR:
            result.wrong[name] = (found.sure, value, "nothing")
    for code in header.says:
        if code not in {notice.message.code for notice in reading.notices}:
            result.missing[f"says {code}"] = code
        else:
            result.right[f"says {code}"] = Sureness.LIKELY
    return result


def _compare(result: Score, name: str, values: list[str], found: FieldReading | None) -> None:
    if found is None:
        result.missing[name] = values[0]
        return
    value = written(name, found.value)
    if value in values or (
        found.sure is Sureness.UNCLEAR
        and any(written(name, other) in values for other in found.others)
    ):
        result.right[name] = found.sure
    else:
        result.wrong[name] = (found.sure, value, values[0])


def _compare_open(
    result: Score, name: str, values: list[str], found: FieldReading | None, maybe: list[str]
) -> None:
    if found is None:
        if not maybe:
            result.missing[name] = " | ".join(values)
        return
    offered = {written(name, value) for value in (found.value, *found.others)}
    if set(values) <= offered and found.sure is not Sureness.SURE:
        result.right[name] = found.sure
    elif found.sure is Sureness.SURE or not offered & set(values):
        result.wrong[name] = (found.sure, written(name, found.value), " | ".join(values))
    else:
        result.missing[name] = " | ".join(values)
