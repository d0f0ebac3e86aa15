"""What washing and cautions ask of a yarn's behaviour; None where it is unknown."""

from typing import Protocol


class WashTraits(Protocol):
    """Each trait is 'yes', 'some' (a little, or perhaps) or 'no'."""

    @property
    def felts(self) -> str | None: ...

    @property
    def sheds(self) -> str | None: ...

    @property
    def prickles(self) -> str | None: ...

    @property
    def weak_wet(self) -> str | None: ...
