"""Sessions end: when idle, after a working day, by signing out, with a new passphrase."""

import pytest

from shopdesk.counter.access import LONGEST_HOURS, MOST_SESSIONS, Sessions
from tests.counter.clocks import Clock


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def sessions(clock: Clock) -> Sessions:
    return Sessions(30, clock)


def test_a_session_that_is_used_goes_on(sessions: Sessions, clock: Clock) -> None:
    token = sessions.begin("mark")
    for _ in range(10):
        clock.now += 29 * 60
        assert sessions.alive(token, "mark")


def test_an_idle_session_is_over(sessions: Sessions, clock: Clock) -> None:
    token = sessions.begin("mark")
    clock.now += 30 * 60
    assert not sessions.alive(token, "mark")
    clock.now = 0
    assert not sessions.alive(token, "mark")


def test_no_session_outlasts_a_working_day(sessions: Sessions, clock: Clock) -> None:
    token = sessions.begin("mark")
    while clock.now < LONGEST_HOURS * 3600:
        clock.now += 600
        alive = sessions.alive(token, "mark")
    assert not alive


def test_signing_out_ends_it_on_the_server(sessions: Sessions) -> None:
    token, other = sessions.begin("mark"), sessions.begin("mark")
    sessions.end(token)
    assert not sessions.alive(token, "mark")
    assert sessions.alive(other, "mark")


def test_a_new_passphrase_ends_every_session(sessions: Sessions) -> None:
    assert not sessions.alive(sessions.begin("mark"), "another mark")


@pytest.mark.parametrize("token", ["", "x", "é", "a" * 10_000])
def test_a_made_up_token_is_none(sessions: Sessions, token: str) -> None:
    sessions.begin("mark")
    assert not sessions.alive(token, "mark")


def test_tokens_are_long_and_differ(sessions: Sessions) -> None:
    # ASVS 5.0 wants 128 bits; base64 has 6 bits a letter.
    tokens = {sessions.begin("mark") for _ in range(50)}
    assert len(tokens) == 50
    assert all(len(token) * 6 >= 128 for token in tokens)


def test_the_memory_is_bounded_and_the_latest_stay(sessions: Sessions) -> None:
    first = sessions.begin("mark")
    last = [sessions.begin("mark") for _ in range(MOST_SESSIONS)][-1]
    assert not sessions.alive(first, "mark")
    assert sessions.alive(last, "mark")
