"""Slows down whoever guesses: each address by itself, so that the others are never locked out."""

import ipaddress
import math
import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass

FREE_TRIES = 5
FIRST_WAIT_SECONDS = 2.0
LONGEST_WAIT_SECONDS = 60.0
LONGEST_WAIT_HERE_SECONDS = 2.0
FORGOTTEN_AFTER_SECONDS = 3600.0
MOST_ADDRESSES = 4096
IPV6_NETWORK_BITS = 64


@dataclass(slots=True)
class _Tries:
    wrong: int = 0
    last: float = -math.inf
    free_again: float = -math.inf


class Backoff:
    """Counts wrong tries by address. The wait doubles with each one after the free tries.

    Loopback waits two seconds at most: whoever sits at the shop's own computer is not the danger.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._tries: OrderedDict[str, _Tries] = OrderedDict()

    def seconds_left(self, address: str) -> int:
        """Returns for how many whole seconds this address must wait, or 0."""
        tries = self._tries.get(_source(address))
        return math.ceil(max(0.0, tries.free_again - self._clock())) if tries else 0

    def wrong(self, address: str) -> None:
        """Counts one wrong try."""
        source, now = _source(address), self._clock()
        tries = self._tries.get(source, _Tries())
        if now - tries.last > FORGOTTEN_AFTER_SECONDS:
            tries = _Tries()
        tries.wrong, tries.last = tries.wrong + 1, now
        over = tries.wrong - FREE_TRIES
        if over >= 0:
            longest = LONGEST_WAIT_HERE_SECONDS if _is_here(address) else LONGEST_WAIT_SECONDS
            tries.free_again = now + min(longest, FIRST_WAIT_SECONDS * 2.0 ** min(over, 30))
        self._tries[source] = tries
        self._tries.move_to_end(source)
        while len(self._tries) > MOST_ADDRESSES:
            self._tries.popitem(last=False)

    def right(self, address: str) -> None:
        """Forgets the wrong tries of an address."""
        self._tries.pop(_source(address), None)


def _source(address: str) -> str:
    """Returns what is counted as one: an IPv4 address, or the network of an IPv6 address."""
    try:
        found = ipaddress.ip_address(address)
    except ValueError:
        return address
    if isinstance(found, ipaddress.IPv6Address) and not found.is_loopback:
        return str(ipaddress.ip_network((int(found), IPV6_NETWORK_BITS), strict=False))
    return str(found)


def _is_here(address: str) -> bool:
    try:
        return ipaddress.ip_address(address).is_loopback
    except ValueError:
        return False
