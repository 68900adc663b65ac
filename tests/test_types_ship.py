"""Who writes a program with this package gets its types checked,
from the package as it is installed.
"""

from __future__ import annotations

import os
import subprocess
import sys
from importlib.resources import files

import pytest

PROGRAM = """\
from dxf2veneer import load_job, take_off

takeoff = take_off("front.dxf", load_job(None, {}))
area: float = takeoff.totals.net_area
name: int = takeoff.walls[0].wall.layer
take_off("front.dxf")
"""
"""Its last two lines are wrong: a layer is a text, and a takeoff needs a job."""


def test_the_mark_of_type_information_is_in_the_package():
    assert files("dxf2veneer").joinpath("py.typed").is_file()


def test_a_type_checker_sees_the_types(tmp_path):
    pytest.importorskip("mypy", reason="the extra 'dev' is not installed")
    (tmp_path / "program.py").write_text(PROGRAM)
    command = [
        sys.executable,
        "-m",
        "mypy",
        "--strict",
        "--no-error-summary",
        "--cache-dir",
        str(tmp_path / "cache"),
        "program.py",
    ]
    alone = {
        name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "MYPYPATH")
    }
    done = subprocess.run(
        command, cwd=tmp_path, env=alone, capture_output=True, encoding="utf-8", check=False
    )
    layer, job = done.stdout.splitlines()
    assert layer.startswith("program.py:5: error: ") and '"str"' in layer and '"int"' in layer
    assert job.startswith("program.py:6: error: ") and '"job"' in job
