"""The overlay before eyes that share no code with ours: GDAL's DXF reader and a free 2D CAD
program.
"""

from __future__ import annotations

import dataclasses
import os
import shutil
import subprocess
from collections import Counter

import ezdxf
import pytest
from laid_out import laid_out
from takeoffs import takeoff

from dxf2veneer.config.job import with_settings
from dxf2veneer.writers.overlay import write_overlay
from dxf2veneer.writers.overlay.layers import layer_names

LAYER = layer_names("A-ELEV-VENR")


@pytest.fixture
def overlay(tmp_path):
    """Overlay of W2, in millimeters, over a drawing with one line of its own."""
    doc = ezdxf.new("R2018")
    doc.header["$INSUNITS"] = 4
    doc.modelspace().add_line((0, 0), (9000, 0), {"layer": "A-GRADE"})
    doc.saveas(tmp_path / "source.dxf")
    made = takeoff()
    write_overlay(made, made.drawings[1], tmp_path / "source.dxf", tmp_path / "courses.dxf")
    return tmp_path / "courses.dxf"


def test_gdal_reads_the_same_layers_and_counts(overlay):
    pyogrio = pytest.importorskip("pyogrio", reason="GDAL (pyogrio) is not installed")
    pyogrio.set_gdal_config_options({"DXF_CLOSED_LINE_AS_POLYGON": "YES"})
    info, _, _, fields = pyogrio.raw.read(overlay)
    columns = dict(zip(info["fields"], fields, strict=True))
    read = Counter(columns["Layer"])
    ours = Counter(e.dxf.layer for e in ezdxf.readfile(overlay).modelspace())
    assert read == ours
    # by hand: 10 courses; lines break at the vent on y = 48 alone; one starter line; 2 notices of a
    # mark and a text
    assert read[LAYER["number"]] == 10
    assert read[LAYER["course"]] == 11
    assert read[LAYER["starter"]] == 1
    assert read["A-GRADE"] == 1
    # the vent has room for the end of its id alone; the rest stands in the list under the wall
    assert {"1", "10", "O1"} <= set(columns["Text"])
    assert any(str(text).startswith("W2-O1 vent") for text in columns["Text"])


def test_gdal_reads_the_wall_at_its_place(overlay):
    pyogrio = pytest.importorskip("pyogrio", reason="GDAL (pyogrio) is not installed")
    import shapely

    pyogrio.set_gdal_config_options({"DXF_CLOSED_LINE_AS_POLYGON": "YES"})
    _, _, geometry, _ = pyogrio.raw.read(overlay, where=f"Layer = '{LAYER['wall']}'")
    (wall,) = shapely.from_wkb(geometry)
    assert wall.bounds == pytest.approx((300 * 25.4, 0, 420 * 25.4, 80 * 25.4))
    assert wall.area == pytest.approx(9_600 * 25.4**2)


@pytest.fixture(params=["R12", "R2018"])
def planned(tmp_path, request):
    """Overlay of W1 of the job laid out by hand, in inches, alone."""
    ezdxf.new().saveas(tmp_path / "source.dxf")
    made = laid_out()
    job = with_settings(made.job, output__overlay_only=True, output__dxf_version=request.param)
    write_overlay(
        dataclasses.replace(made, job=job),
        made.drawings[0],
        tmp_path / "source.dxf",
        tmp_path / "courses.dxf",
    )
    return request.param, tmp_path / "courses.dxf"


def test_gdal_counts_joints_and_pieces_as_the_plan_has_them(planned):
    pyogrio = pytest.importorskip("pyogrio", reason="GDAL (pyogrio) is not installed")
    import shapely

    version, overlay = planned
    pyogrio.set_gdal_config_options({"DXF_CLOSED_LINE_AS_POLYGON": "YES"})
    info, _, geometry, fields = pyogrio.raw.read(overlay)
    columns = dict(zip(info["fields"], fields, strict=True))
    read = Counter(columns["Layer"])
    # by the sketch in laid_out.py: W1 has 10 pieces in 3 courses, so 7 joints; 4 cut ends; a text
    # in each piece
    assert (read[LAYER["joint"]], read[LAYER["cut"]], read[LAYER["piece"]]) == (7, 4, 10)
    assert read[LAYER["shaped"]] == 4  # one notched, three ripped
    assert read[LAYER["corner"]] == 2 * 2  # outline and hand of two corner pieces
    if version != "R12":
        assert read[LAYER["glued"]] == 4  # the ripped course
    hands = [
        s
        for n, s in zip(columns["Layer"], shapely.from_wkb(geometry), strict=True)
        if n == LAYER["corner"]
    ]
    assert sorted(s.area for s in hands)[-2:] == pytest.approx(
        [16 * 4, 24 * 8]
    )  # C2 ripped to 4 in, C1 24 in long
    assert 'F3 24"' in set(columns["Text"])


@pytest.mark.skipif(shutil.which("librecad") is None, reason="LibreCAD is not installed")
def test_a_cad_program_plots_the_plan(planned, tmp_path):
    _, overlay = planned
    environment = os.environ | {
        "QT_QPA_PLATFORM": "offscreen",
        "XDG_CONFIG_HOME": str(tmp_path / "config"),
    }
    command = ["librecad", "dxf2pdf", "-a", "-t", str(tmp_path), str(overlay)]
    subprocess.run(command, env=environment, timeout=300, capture_output=True, check=False)
    assert (tmp_path / "courses.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.skipif(shutil.which("librecad") is None, reason="LibreCAD is not installed")
def test_a_cad_program_opens_and_plots_it(overlay, tmp_path):
    environment = os.environ | {
        "QT_QPA_PLATFORM": "offscreen",
        "XDG_CONFIG_HOME": str(tmp_path / "config"),
    }
    command = ["librecad", "dxf2pdf", "-a", "-t", str(tmp_path), str(overlay)]
    subprocess.run(command, env=environment, timeout=300, capture_output=True, check=False)
    plotted = tmp_path / "courses.pdf"
    assert plotted.is_file()  # the exit code is 0 even where nothing was read
    assert plotted.read_bytes().startswith(b"%PDF")
