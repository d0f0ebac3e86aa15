"""Weight categories in one whole number, as the shelf keeps them: bit n is set for category n."""

from collections.abc import Iterable


def bits_of(numbers: Iterable[int]) -> int:
    """Returns the number that has the bits of these categories set, each given once."""
    return sum(1 << number for number in numbers)


def numbers_in(bits: int) -> tuple[int, ...]:
    """Returns the categories whose bits are set, finest first."""
    return tuple(number for number in range(bits.bit_length()) if bits >> number & 1)
