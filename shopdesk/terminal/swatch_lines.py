"""What a swatch says, as lines of text: the sentences of its document, a heading for each group."""

from collections.abc import Iterator
from typing import Any

_GROUPS = (
    ("Gauge", ("gauge", "trust")),
    ("Next", ("advice",)),
    ("If they go on regardless", ("regardless",)),
    ("Sizes", ("other_size",)),
    ("Rows", ("rows",)),
)


def swatch_lines(document: dict[str, Any]) -> Iterator[str]:
    """Yields the lines; groups without a sentence are left out."""
    kept = document["swatch"]
    yield f"swatch {kept}, kept" if kept else "looked at, not kept"
    for heading, names in _GROUPS:
        yield from _group(heading, [text for name in names for text in _texts(document[name])])
    yield from _group("Yarn, for the same finished size", list(_yarn(document)))
    weighed, firmness = document["weighed"], document["firmness"]
    if weighed is not None:
        yield from _group("By the scale", list(_texts(weighed["said"])))
    if firmness is not None:
        yield from _group("Fabric", list(_texts(firmness["said"])))
    yield from _group("The yarn's own gauge", list(_own_gauge(document["own_gauge"])))


def _group(heading: str, texts: list[str]) -> Iterator[str]:
    if texts:
        yield f"{heading}:"
        yield from (f"  {text}" for text in texts)


def _texts(said: Any) -> Iterator[str]:
    if isinstance(said, dict):
        yield str(said["text"])
    for one in said if isinstance(said, list) else ():
        yield str(one["text"])


def _yarn(document: dict[str, Any]) -> Iterator[str]:
    for part in document["parts"]:
        name = f"{part['part']}: " if len(document["parts"]) > 1 and part["part"] else ""
        yield name + part["said"]["text"]


def _own_gauge(own: dict[str, Any]) -> Iterator[str]:
    for when, figure in (("without this swatch", own["before"]), ("with it", own["after"])):
        if figure is not None:
            yield (
                f"{when}: {figure['value']:.1f} stitches to 10 cm "
                f"({figure['low']:.1f} to {figure['high']:.1f}), by {figure['basis']}"
            )
    if own["after"] is not None:
        yield from _texts(own["after"]["notes"])
