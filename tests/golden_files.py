"""Golden files: a result as text beside an earlier one, with a diff a person can read."""

from __future__ import annotations

import difflib
import json
from pathlib import Path
from typing import Any

PLACES = 6
"""Digits kept after the point, so that the last bits of another machine do not show."""


def as_text(value: Any, folder: Path) -> str:
    """A result as indented JSON, numbers rounded, the folder's own path taken out."""
    return json.dumps(_steady(value, f"{folder}/"), indent=1, ensure_ascii=False) + "\n"


def _steady(value: Any, folder: str) -> Any:
    if isinstance(value, dict):
        return {key: _steady(v, folder) for key, v in value.items() if key != "sha256"}
    if isinstance(value, list | tuple):
        return [_steady(v, folder) for v in value]
    if isinstance(value, float):
        return round(value, PLACES) + 0.0
    return value.replace(folder, "") if isinstance(value, str) else value


def difference(golden: Path, found: str) -> str:
    """A unified diff from the golden file to what was found; empty where they agree."""
    kept = golden.read_text(encoding="utf-8") if golden.exists() else ""
    lines = difflib.unified_diff(
        kept.splitlines(), found.splitlines(), str(golden.name), "found now", lineterm=""
    )
    return "\n".join(lines)
