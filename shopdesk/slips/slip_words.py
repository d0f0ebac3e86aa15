"""A slip in words: every string as it is read, in one language; papers and page lay this out."""

from dataclasses import dataclass, replace

from shopdesk.slips.visible import visible


@dataclass(frozen=True, slots=True)
class LabelledValue:
    """A name and its value, as in 'Gauge' and '22 stitches to 10 cm'."""

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class BigFigure:
    """A figure that is read across the table, with its name above and its unit below."""

    name: str
    value: str
    below: str


@dataclass(frozen=True, slots=True)
class LineWords:
    """One line for the till; `barcode` is the checked article number or ''."""

    part: str
    name: str
    colour: str
    amounts: tuple[str, ...]
    price: str
    notes: tuple[str, ...]
    barcode: str
    barcode_name: str


@dataclass(frozen=True, slots=True)
class CautionWords:
    """`text` is the whole caution; `said` and `basis` are its halves, `basis` '' if it has none.

    `kind` is the word for law or for advice; `told` is '' if it was not asked for.
    """

    kind: str
    text: str
    said: str
    basis: str
    told: str


@dataclass(frozen=True, slots=True)
class Passage:
    """A titled part of the slip: sentences and what they rest on, or names with values."""

    title: str
    sentences: tuple[str, ...] = ()
    basis: str = ""
    facts: tuple[LabelledValue, ...] = ()


@dataclass(frozen=True, slots=True)
class SwatchWords:
    """The swatch card."""

    title: str
    figures: tuple[BigFigure, ...]
    steps: tuple[str, ...]
    outcomes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HeadWords:
    """The shop, and what tells this slip from others. The customer's name may be ''."""

    shop: str
    address: tuple[str, ...]
    stamp: tuple[LabelledValue, ...]
    customer_title: str
    customer_name: str

    @property
    def customer(self) -> tuple[LabelledValue, ...]:
        """The customer's name beside its title; empty where nobody is named."""
        named = LabelledValue(self.customer_title, self.customer_name)
        return (named,) if self.customer_name else ()

    replaces: str


@dataclass(frozen=True, slots=True)
class TillWords:
    """What goes to the till. `total` is '' where there is one line only."""

    title: str
    lines: tuple[LineWords, ...]
    total: str
    terms: str


@dataclass(frozen=True, slots=True)
class CautionsWords:
    """All cautions, the most pressing first; without any, all is ''."""

    title: str
    notes: tuple[CautionWords, ...]

    def by_basis(self) -> tuple[tuple[str, tuple[CautionWords, ...]], ...]:
        """Returns each basis, in the order in which it comes first, with its cautions."""
        bases = dict.fromkeys(note.basis for note in self.notes)
        return tuple((b, tuple(n for n in self.notes if n.basis == b)) for b in bases)


@dataclass(frozen=True, slots=True)
class SlipText:
    """All words of one slip, in the order in which they are read.

    `page_of_pages` has {page} and {pages} where the numbers go.
    """

    language: str
    document_title: str
    page_of_pages: str
    head: HeadWords
    title: str
    yarn: str
    standing: tuple[str, ...]
    pattern: Passage
    till: TillWords
    swatch: SwatchWords
    fabric_and_care: tuple[Passage, ...]
    cautions: CautionsWords
    end: tuple[Passage, ...]

    def named(self, customer: str | None) -> "SlipText":
        """Returns the words with the customer's name on them, or without any."""
        return replace(self, head=replace(self.head, customer_name=visible(customer or "")))
