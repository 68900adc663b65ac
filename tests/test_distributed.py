"""More than one machine: takeoffs as plain values, mapped over the processes of a local cluster."""

from __future__ import annotations

import pickle
import re
import subprocess
import sys

import pytest
from builders import drawing, example_wall, line, write_dxf
from conftest import ROOT

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job
from dxf2veneer.drawing import DrawingError

JOB = load_job(
    None,
    {
        "layers.wall": ("WALL",),
        "layers.opening": ("WINDOW", "DOOR"),
        "layers.outside_corner": ("OUTSIDE_CORNER",),
    },
)


@pytest.mark.parametrize(
    "source",
    [
        example_wall(),
        # an unpaired corner mark: a notice with a place
        drawing(
            wall=[(0, 0, 200, 96)],
            window=[(60, 32, 96, 72)],
            outside_corner=[line(200, 0, 200, 96)],
        ),
    ],
)
def test_a_takeoff_with_its_plan_is_the_same_after_a_journey(source, tmp_path):
    takeoff = take_off(write_dxf(source, tmp_path / "front.dxf"), JOB)
    assert takeoff.plan is not None
    assert takeoff.notices
    assert pickle.loads(pickle.dumps(takeoff)) == takeoff
    assert pickle.loads(pickle.dumps(JOB)) == JOB


def test_one_drawing_may_stand_without_a_list(tmp_path):
    file = write_dxf(example_wall(), tmp_path / "front.dxf")
    assert take_off(str(file), JOB) == take_off(file, JOB) == take_off([file], JOB)


def test_an_unusable_drawing_can_be_told_from_afar(tmp_path):
    with pytest.raises(DrawingError) as caught:
        take_off(tmp_path / "no.dxf", JOB)
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)


def test_the_example_in_the_docs_runs_on_a_local_cluster(tmp_path):
    pytest.importorskip("distributed", reason="the extra 'distributed' is not installed")
    page = (ROOT / "docs" / "many-drawings.md").read_text(encoding="utf-8")
    (example,) = re.findall(r"```python\n(.*?)```", page, re.DOTALL)
    (tmp_path / "example.py").write_text(example, encoding="utf-8")
    (tmp_path / "drawings").mkdir()
    # 200 x 96 and 300 x 96 with a window of 10 sq ft: 123.33 and 190.00 sq ft net
    for name, width in (("north", 200), ("south", 300)):
        write_dxf(
            drawing(wall=[(0, 0, width, 96)], opening=[(60, 32, 96, 72)]),
            tmp_path / "drawings" / f"{name}.dxf",
        )
    (tmp_path / "drawings" / "odd.dxf").write_text("no drawing")
    (tmp_path / "job.toml").write_text('[layers]\nwall = "WALL"\nopening = "OPENING"\n')
    done = subprocess.run(
        [sys.executable, "example.py"],
        cwd=tmp_path,
        capture_output=True,
        encoding="utf-8",
        timeout=300,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    north, odd, south = done.stdout.splitlines()
    assert re.fullmatch(r"drawings.north\.dxf 123\.33 sq ft \d+ panels", north)
    assert re.fullmatch(r"drawings.odd\.dxf: this is no DXF file.*", odd)
    assert re.fullmatch(r"drawings.south\.dxf 190\.00 sq ft \d+ panels", south)
