"""The traits of a made-up yarn: only those a test names are known."""

from dataclasses import dataclass


@dataclass(frozen=True)
class SomeTraits:
    felts: str | None = None
    sheds: str | None = None
    prickles: str | None = None
    weak_wet: str | None = None
