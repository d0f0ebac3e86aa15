"""Guessing gets slower for the one who guesses, and for nobody else."""

import pytest

from shopdesk.counter.access import (
    FORGOTTEN_AFTER_SECONDS,
    FREE_TRIES,
    LONGEST_WAIT_HERE_SECONDS,
    LONGEST_WAIT_SECONDS,
    MOST_ADDRESSES,
    Backoff,
)
from tests.counter.clocks import Clock

STRANGER = "192.0.2.7"


@pytest.fixture
def clock() -> Clock:
    return Clock(1000.0)


@pytest.fixture
def backoff(clock: Clock) -> Backoff:
    return Backoff(clock)


def guess(backoff: Backoff, address: str, times: int) -> None:
    for _ in range(times):
        backoff.wrong(address)


def test_a_slip_of_the_finger_costs_nothing(backoff: Backoff) -> None:
    guess(backoff, STRANGER, FREE_TRIES - 1)
    assert backoff.seconds_left(STRANGER) == 0


def test_each_guess_waits_longer_up_to_a_minute(backoff: Backoff) -> None:
    waits = []
    for _ in range(FREE_TRIES + 12):
        backoff.wrong(STRANGER)
        waits.append(backoff.seconds_left(STRANGER))
    assert waits == sorted(waits)
    assert waits[FREE_TRIES] > waits[FREE_TRIES - 1] > 0
    assert waits[-1] == LONGEST_WAIT_SECONDS


def test_a_day_of_guessing_is_few_guesses(backoff: Backoff, clock: Clock) -> None:
    # ASVS 5.0 wants guessing slowed down; without it a day has millions of tries.
    begun, tries = clock.now, 0
    while clock.now - begun < 24 * 3600:
        backoff.wrong(STRANGER)
        tries += 1
        clock.now += backoff.seconds_left(STRANGER)
    assert tries < 1500


def test_others_are_not_locked_out(backoff: Backoff) -> None:
    guess(backoff, STRANGER, 100)
    assert backoff.seconds_left("192.0.2.8") == 0
    assert backoff.seconds_left("127.0.0.1") == 0


@pytest.mark.parametrize("here", ["127.0.0.1", "::1", "127.8.8.8"])
def test_the_shop_s_own_computer_waits_a_moment_only(backoff: Backoff, here: str) -> None:
    guess(backoff, here, 100)
    assert 0 < backoff.seconds_left(here) <= LONGEST_WAIT_HERE_SECONDS


def test_a_wait_ends(backoff: Backoff, clock: Clock) -> None:
    guess(backoff, STRANGER, 100)
    clock.now += LONGEST_WAIT_SECONDS
    assert backoff.seconds_left(STRANGER) == 0


def test_the_right_one_clears_the_wrong_ones(backoff: Backoff) -> None:
    guess(backoff, STRANGER, FREE_TRIES - 1)
    backoff.right(STRANGER)
    guess(backoff, STRANGER, FREE_TRIES - 1)
    assert backoff.seconds_left(STRANGER) == 0


def test_wrong_ones_are_forgotten_after_an_hour(backoff: Backoff, clock: Clock) -> None:
    guess(backoff, STRANGER, FREE_TRIES - 1)
    clock.now += FORGOTTEN_AFTER_SECONDS + 1
    guess(backoff, STRANGER, 1)
    assert backoff.seconds_left(STRANGER) == 0


def test_one_ipv6_network_counts_as_one(backoff: Backoff) -> None:
    # RFC 4291, section 2.5.1: a host chooses the last 64 bits of its address.
    for number in range(FREE_TRIES):
        backoff.wrong(f"2001:db8:0:1::{number:x}")
    assert backoff.seconds_left("2001:db8:0:1:ffff::1") > 0
    assert backoff.seconds_left("2001:db8:0:2::1") == 0


def test_many_addresses_do_not_fill_the_memory(backoff: Backoff) -> None:
    for number in range(MOST_ADDRESSES + 50):
        backoff.wrong(f"10.{number >> 16}.{number >> 8 & 255}.{number & 255}")
    assert len(backoff._tries) == MOST_ADDRESSES
