"""How many clicks drawings of other people take: at most one for each wrong or missing proposal,
and two."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest

sys.path.append(str(Path(__file__).parent.parent / "benchmarks"))

import clicks
import real_proposals


@pytest.mark.parametrize(
    "name", ["woodshed-front", "woodshed-plan", "pavilion-view-2", "pavilion-sheet"]
)
def test_a_drawing_takes_one_click_for_each_fault_and_two(real_drawings, tmp_path, name):
    truths = {path.stem: (path, truth) for path, truth in real_proposals.truths(real_drawings)}
    path, truth = truths[name]
    copied = tmp_path / path.name
    shutil.copyfile(path, copied)
    count = clicks.counted(copied, truth)
    assert clicks.clicks_of(count) <= clicks.bound_of(count)
