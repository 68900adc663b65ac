"""A drawing that an overlay was written into reads as the drawing itself does."""

from __future__ import annotations

import ezdxf
import pytest
from click.testing import CliRunner

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.basics.messages import TakeoffError
from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job
from dxf2veneer.drawing.survey import survey
from dxf2veneer.propose import propose


def facade(path):
    """A front of 9 x 3 m with a door of 0.9 x 2.1 m and two framed windows of 1.2 x 1.2 m; the name
    of the drawing, which the overlay's title says, is that of a plan."""
    doc = ezdxf.new("R2010")
    doc.header["$INSUNITS"] = 4
    space = doc.modelspace()

    def box(x, y, wide, high, layer):
        corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]
        space.add_lwpolyline(corners, close=True, dxfattribs={"layer": layer})

    box(0, 0, 9000, 3000, "WALL")
    box(4000, 0, 900, 2100, "OPEN")
    for x in (1000, 6500):
        box(x, 900, 1200, 1200, "OPEN")
        box(x + 60, 960, 1080, 1080, "SASH")
    space.add_line((-800, 0), (9800, 0), dxfattribs={"layer": "GROUND"})
    doc.saveas(path)
    return path


def overlaid(path, *options):
    """The drawing with its overlay, as the command writes it."""
    asked = ["takeoff", str(path), "--wall-layer", "WALL", "--opening-layer", "OPEN"]
    told = CliRunner().invoke(main, [*asked, "-o", str(path.parent / "out"), *options])
    assert told.exit_code == 0, told.output
    return path.parent / "out" / f"{path.stem}-courses.dxf"


def notices(path, **settings):
    asked = {"layers.wall": ("WALL",), "layers.opening": ("OPEN",), "plan.panels": False}
    return [(n.code, n.handle) for n in take_off(path, load_job(None, asked | settings)).notices]


@pytest.mark.parametrize("form", ["text", "binary"])
def test_a_drawing_with_its_overlay_proposes_what_the_drawing_does(tmp_path, form):
    path = facade(tmp_path / "floor plan.dxf")
    again = overlaid(path, *(["--binary"] if form == "binary" else []))
    assert len(ezdxf.readfile(again).modelspace()) > 100
    assert propose(again).as_json() == propose(path).as_json()
    assert notices(again) == notices(path)


def test_layers_counts_an_overlay_and_takes_nothing_of_it_for_a_building(tmp_path):
    path = facade(tmp_path / "floor plan.dxf")
    plain, again = survey(path), survey(overlaid(path))
    assert (again.width, again.height, again.measured) == (
        plain.width,
        plain.height,
        plain.measured,
    )
    own = [layer for layer in again.layers if layer.name.startswith("A-ELEV-VENR-")]
    assert sum(layer.entities for layer in own) > 100
    assert not any(layer.guess or layer.closed_outlines for layer in own)
    theirs = [layer for layer in again.layers if layer not in own]
    assert [(x.name, x.guess) for x in theirs] == [(x.name, x.guess) for x in plain.layers]


def test_an_overlay_under_another_prefix_is_no_wall_under_any_name(tmp_path):
    path = facade(tmp_path / "floor plan.dxf")
    again = overlaid(path, "--layer-prefix", "MY")
    for named in ("MY-WALL", "MY-*"):
        with pytest.raises(TakeoffError):
            take_off(again, load_job(None, {"layers.wall": (named,), "plan.panels": False}))


def test_an_outline_of_an_overlay_copied_to_another_layer_is_the_persons_own(tmp_path):
    path = overlaid(facade(tmp_path / "floor plan.dxf"))
    doc = ezdxf.readfile(path)
    space = doc.modelspace()
    (ours,) = space.query('LWPOLYLINE[layer=="A-ELEV-VENR-WALL"]')
    for entity in space.query('*[layer=="WALL"]'):
        space.delete_entity(entity)
    ours.dxf.layer = "MINE"
    doc.saveas(path)
    found = propose(path)
    (wall,) = found.walls
    assert set(wall.outline) == {(0, 0), (9000, 0), (9000, 3000), (0, 3000)}
