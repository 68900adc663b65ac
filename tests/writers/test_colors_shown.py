"""Colors in pictures, legend, overlay, cut list and result: none where the product has one."""

from __future__ import annotations

import dataclasses
import re

import ezdxf
import openpyxl
import pytest
from builders import PRODUCT, drawing, job, write_dxf

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.blend import Blend, Color
from dxf2veneer.config.job import with_settings
from dxf2veneer.writers.elevation.picture import elevation_svg
from dxf2veneer.writers.overlay import write_overlay
from dxf2veneer.writers.report.legend import keys_of
from dxf2veneer.writers.result import result_dict
from dxf2veneer.writers.workbook import write_cuts

BLEND = Blend((Color("Tan <b>", 30.0), Color("Buff", 60.0), Color("Gray", 10.0)))


@pytest.fixture(scope="module", params=[BLEND, Blend()], ids=["three", "one"])
def front(request, tmp_path_factory):
    folder = tmp_path_factory.mktemp("front")
    product = dataclasses.replace(PRODUCT, blend=request.param)
    file = write_dxf(drawing(wall=[(0, 0, 240, 80)]), folder / "front.dxf")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("dxf2veneer.app.pipeline.load_product", lambda path: product)
        return take_off(file, job(plan__search=0.0)), folder


def is_mixed(takeoff) -> bool:
    return bool(takeoff.product.blend.colors)


def test_pictures_tell_colors_by_shade_and_letter(front):
    takeoff, _ = front
    svg = str(elevation_svg(takeoff, takeoff.walls[0], (), alone=True))
    color = {u.id: u.color for u in takeoff.plan.units}
    pieces = takeoff.walls[0].courses.pieces
    for name, shade in (("Buff", 0), ("Tan <b>", 1), ("Gray", 2)):
        own = sum(color[p.stock] == name for p in pieces)
        assert len(re.findall(f'class="p shade{shade}"', svg)) == own
    assert ("; Tan &lt;b&gt;<" in svg) == is_mixed(takeoff)
    assert bool(re.search(r">[BTG] F\d+<", svg)) == is_mixed(takeoff)


def test_the_legend_names_each_color_with_its_letter(front):
    takeoff, _ = front
    words = [text.rpartition(":")[0] for text, _ in keys_of(takeoff, takeoff.walls[0])]
    assert (words[:3] == ["B Buff", "T Tan <b>", "G Gray"]) == is_mixed(takeoff)
    assert ("cut to length" in words) == (not is_mixed(takeoff))


@pytest.mark.parametrize("version", ["R2010", "R12"])
def test_the_overlay_hatches_minor_colors_closer_the_rarer(front, version):
    """Buff, the most, is bare; lines of Gray, a tenth, lie closer than those of Tan."""
    takeoff, folder = front
    made = dataclasses.replace(takeoff, job=with_settings(takeoff.job, output__dxf_version=version))
    write_overlay(made, made.drawings[0], folder / "front.dxf", folder / "hatched.dxf")
    lines = {}
    for entity in ezdxf.readfile(folder / "hatched.dxf").modelspace():
        if entity.dxf.layer.endswith("-PCLR"):
            tags = dict(v.split("=") for _, v in entity.get_xdata("DXF2VENEER") if "=" in v)
            lines.setdefault(tags["color"], {}).setdefault(tags["piece"], []).append(entity)
    color = {u.id: u.color for u in takeoff.plan.units}
    minor = [p for p in takeoff.walls[0].courses.pieces if color[p.stock] not in ("", "Buff")]
    assert sum(map(len, lines.values())) == len(minor)
    assert set(lines) == ({"Tan <b>", "Gray"} if is_mixed(takeoff) else set())
    if lines and version == "R12":
        most = {name: max(map(len, own.values())) for name, own in lines.items()}
        assert most["Gray"] > most["Tan <b>"]
    elif lines:
        scale = {name: next(iter(o.values()))[0].dxf.pattern_scale for name, o in lines.items()}
        assert scale["Gray"] < scale["Tan <b>"]


def test_the_overlay_has_the_letter_before_the_panel(front):
    takeoff, folder = front
    write_overlay(takeoff, takeoff.drawings[0], folder / "front.dxf", folder / "over.dxf")
    texts = [
        e.dxf.text
        for e in ezdxf.readfile(folder / "over.dxf").modelspace()
        if e.dxftype() == "TEXT"
    ]
    letters = {t[0] for t in texts if re.fullmatch(r"[BTG] F\d+.*", t)}
    assert letters == ({"B", "T", "G"} if is_mixed(takeoff) else set())


def test_cut_list_and_panels_name_the_color_of_each(front):
    takeoff, folder = front
    write_cuts(takeoff, takeoff.plan, folder / "out.xlsx")
    book = openpyxl.load_workbook(folder / "out.xlsx")
    color = {u.id: u.color for u in takeoff.plan.units}
    for sheet in ("Cut list", "Stock"):
        rows = list(book[sheet].iter_rows(values_only=True))
        head = next(row for row in rows if "Color" in row or "Kind" in row or "Piece" in row)
        assert ("Color" in head) == is_mixed(takeoff)
        if is_mixed(takeoff):
            at = head.index("Color")
            unit = next(i for i, text in enumerate(head) if text in ("From\npanel", "Panel"))
            named = {row[unit]: row[at] for row in rows if row[unit] in color}
            assert named == color
    note = " ".join(str(v) for row in book["Cut list"].iter_rows(max_row=4) for v in row)
    cells = " ".join(
        str(v) for row in book["Cut list"].iter_rows(max_row=4, values_only=True) for v in row if v
    )
    assert note and "open" in cells


def test_the_result_names_colors_only_where_there_are_several(front):
    takeoff, _ = front
    text = str(result_dict(takeoff)["stock"]["unit_list"][0])
    assert ("'color'" in text) == is_mixed(takeoff)
    assert ("blend" in result_dict(takeoff)["stock"]) == is_mixed(takeoff)
