"""What the customer brings to an ask as a JSON document: wishes, and how their hand works."""

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from shopdesk.answering.ask.document_base import AskPlace, Document, Money, Number, Word
from shopdesk.answering.model.ask import Wishes
from shopdesk.craft.fibres import fibre_named, fibres_of
from shopdesk.craft.hand_tool import MOST_PERCENT
from shopdesk.craft.messages import message

HandPercent = Annotated[Number, Field(gt=0, le=MOST_PERCENT)]


class WishesDoc(Document):
    avoid_fibres: list[Word] = Field([], max_length=20, description="fibre names to avoid")
    avoid_animal_hair: bool = Field(False, description="true avoids the hair of every animal")
    avoid_silk: bool = Field(False, description="true or false")
    colour_family: Word | None = Field(None, description="a colour family such as blue")
    price_limit: Money | None = Field(
        None, description="the most the whole item's yarn may cost, such as 60"
    )
    one_lot_only: bool = Field(False, description="true or false")
    in_stock_only: bool = Field(False, description="true or false")

    def read(self, at: AskPlace) -> Wishes:
        right = message("problem_ask.give_fibre")
        named = (at / "avoid_fibres").known(self.avoid_fibres, fibre_named, right)
        return Wishes(
            avoid_fibres=named.union(*self._ticked()),
            colour_family=self.colour_family.casefold() if self.colour_family else None,
            price_limit=self.price_limit,
            one_lot_only=self.one_lot_only,
            in_stock_only=self.in_stock_only,
        )

    def _ticked(self) -> Iterator[tuple[str, ...]]:
        if self.avoid_animal_hair:
            yield fibres_of("animal hair")
        if self.avoid_silk:
            yield fibres_of("silk")


class HandDoc(Document):
    percent: HandPercent = Field(description="a number such as 4, at most 25")
    way: Literal["tighter", "looser"] = Field("tighter", description="one of tighter, looser")

    def read(self) -> float:
        """Returns the hand in percent, below 0 for a loose one."""
        return float(self.percent) * (1 if self.way == "tighter" else -1)
