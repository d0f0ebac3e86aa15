"""`shopdesk answer` on bytes that Hypothesis makes: refused in words, never with a traceback."""

from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.terminal.main import main
from tests.machine import examples
from tests.terminal.demo_shop import demo_asks

ASKS = [path.read_bytes() for path in demo_asks()]


@st.composite
def cut_and_pasted(draw: Any) -> bytes:
    """An example ask with a piece of it replaced by other bytes."""
    ask = draw(st.sampled_from(ASKS))
    start = draw(st.integers(0, len(ask)))
    end = min(len(ask), start + draw(st.integers(0, 40)))
    return bytes(ask[:start] + draw(st.binary(max_size=20)) + ask[end:])


@pytest.mark.slow
@settings(max_examples=examples(200))
@given(st.one_of(st.binary(max_size=300), cut_and_pasted()))
def test_any_bytes_are_refused_in_words(data: bytes) -> None:
    # There is no shop here: an ask that can be read ends at 'there is no shop'.
    done = CliRunner().invoke(main, ["answer", "-"], input=data)
    assert done.exit_code in (1, 2)
    assert done.stdout == ""
    assert all(line.startswith("shopdesk: ") for line in done.stderr.splitlines())
    assert "unexpected" not in done.stderr
    assert (done.exit_code == 1) == ("there is no shop" in done.stderr)
