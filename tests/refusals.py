"""How tests say that something is refused, and with which line."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from dxf2veneer.wording import error_line


@contextmanager
def refused(
    kind: type[Exception], match: str = "", *, display: str = "imperial"
) -> Iterator[pytest.ExceptionInfo]:
    """The block raises an error of that kind whose line for the user matches the pattern."""
    with pytest.raises(kind) as found:
        yield found
    line = error_line(found.value, display)
    assert re.search(match, line), line
