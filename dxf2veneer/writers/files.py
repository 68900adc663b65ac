"""Files appear whole or not at all."""

from __future__ import annotations

import os
import secrets
from collections.abc import Callable
from pathlib import Path


def write_whole(path: Path, write: Callable[[Path], object]) -> None:
    """Let ``write`` make a file beside ``path``, then put it in its place in one step.

    The file made has the same ending as ``path``. Where ``write`` fails nothing is left behind, and
    what stood at ``path`` stays as it was. Raises whatever ``write`` raises, and OSError.
    """
    target = path.resolve()
    draft = target.with_name(f".writing-{secrets.token_hex(6)}{target.suffix}")
    try:
        write(draft)
        os.replace(draft, target)
    finally:
        draft.unlink(missing_ok=True)
