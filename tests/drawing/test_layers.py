"""Layers named, hidden, misspelt; outlines closed; kinds left out."""

import pytest
from drawings import OPENING, WALL, new, only_shape, read, told
from refusals import refused

from dxf2veneer.drawing import DrawingError, layer_matches
from dxf2veneer.drawing.layers import clean_text, nearest_layers
from dxf2veneer.wording import error_line, say

BOX = [(0, 0), (200, 0), (200, 100), (0, 100)]


@pytest.mark.parametrize(
    ("name", "patterns", "matches"),
    [
        ("A-WALL", ("a-wall",), True),
        ("a-wall-ext", ("A-WALL-*",), True),
        ("A-WALL", ("A-WALL-*",), False),
        ("A-WALL", ("A-????",), True),
        ("WALL [1]", ("Wall [1]",), True),
        ("WALL1", ("WALL[1-3]",), True),
        ("WALL", (), False),
    ],
)
def test_layer_matches(name, patterns, matches):
    assert layer_matches(name, patterns) is matches


def test_nearest_layers_are_alike_or_hold_the_word():
    names = ["0", "A-WALL-EXTR", "A-GLAZ", "S-COLS"]
    assert nearest_layers("A-WAL-EXTR", names)[0] == "A-WALL-EXTR"
    assert nearest_layers("glaz*", names) == ("A-GLAZ",)


def drawn():
    document = new()
    document.modelspace().add_lwpolyline(BOX, close=True, dxfattribs=WALL)
    return document


def test_only_named_layers_are_read(tmp_path):
    document = drawn()
    document.modelspace().add_circle((0, 0), 9, dxfattribs={"layer": "OTHER"})
    assert [s.layer for s in read(document, tmp_path).shapes] == ["A-WALL"]


def test_hidden_layer_is_left_out_with_its_count(tmp_path):
    document = drawn()
    document.layers.add("A-OPNG").off()
    for x in (10, 60, 110):
        document.modelspace().add_circle((x, 50), 9, dxfattribs=OPENING)
    drawing = read(document, tmp_path)
    assert len(drawing.shapes) == 1
    assert [(n.code, say(n.message)) for n in drawing.notices] == [
        ("HIDDEN_LAYER", "layer A-OPNG: 3 entities left out, because the layer is off")
    ]
    assert len(read(document, tmp_path, drawing__include_hidden=True).shapes) == 4


def test_layer_that_matches_nothing_is_told_with_the_nearest(tmp_path):
    document = drawn()
    document.layers.add("A-OPEN")
    notice = next(n for n in read(document, tmp_path).notices if n.code == "NO_SUCH_LAYER")
    assert notice.layer == "A-OPNG"
    assert "A-OPEN" in say(notice.message)


def test_no_wall_layer_at_all_stops(tmp_path):
    with refused(
        DrawingError, match=r"A-WLAL.*nearest layers are A-WALL.*run: dxf2veneer layers"
    ) as error:
        read(drawn(), tmp_path, layers__wall=("A-WLAL",))
    assert "\n" not in error_line(error.value)


def test_a_wall_layer_that_is_there_and_empty_stops(tmp_path):
    document = drawn()
    document.layers.add("A-BARE")
    with refused(
        DrawingError,
        match=r"wall layer A-BARE is there, but nothing that could be an outline lies on it; for",
    ):
        read(document, tmp_path, layers__wall=("A-BARE",))


def test_a_wall_layer_of_an_overlay_stops(tmp_path):
    document = drawn()
    document.modelspace().add_lwpolyline(
        [(0, 0), (90, 0), (90, 90)], close=True, dxfattribs={"layer": "A-ELEV-VENR-WALL"}
    )
    with refused(
        DrawingError,
        match=r"A-ELEV-VENR-WALL belongs to an overlay that this tool drew, which is never read",
    ):
        read(document, tmp_path, layers__wall=("A-ELEV-VENR-WALL",))


def test_no_wall_layer_named_stops(tmp_path):
    with refused(DrawingError, match="--wall-layer"):
        read(drawn(), tmp_path, layers__wall=())


def test_kinds_that_bound_no_area_are_counted_by_layer_and_kind(tmp_path):
    document = drawn()
    space = document.modelspace()
    for _ in range(2):
        space.add_solid(BOX, dxfattribs=WALL)
    space.add_mtext("brick", dxfattribs=WALL)
    messages = [
        say(n.message) for n in read(document, tmp_path).notices if n.code == "ENTITY_KIND_IGNORED"
    ]
    assert messages == [
        "layer A-WALL: 2 entities of kind SOLID left out",
        "layer A-WALL: 1 entity of kind MTEXT left out",
    ]


#   (0,100)  .-----------. (200,100)
#            |           |
#    (0,gap) .           |
#   (0,0)    '-----------' (200,0)
@pytest.mark.parametrize(
    ("gap", "closed", "tells"), [(0.0, True, False), (0.2, True, True), (0.3, False, False)]
)
def test_ends_within_the_gap_are_joined(gap, closed, tells, tmp_path):
    document = new()
    line = document.modelspace().add_lwpolyline([*BOX, (0, gap)], dxfattribs=WALL)
    drawing = read(document, tmp_path)
    path = only_shape(drawing)
    assert path.closed is closed
    assert ("GAP_CLOSED" in told(drawing)) is tells
    if closed:
        assert path.points == tuple(BOX)
    if tells:
        notice = drawing.notices[0]
        assert (notice.handle, notice.at_in) == (line.dxf.handle, (0, 0))
        assert 'a gap of 13/64" between its ends' in say(notice.message)


def test_gap_is_measured_in_inches_whatever_the_unit(tmp_path):
    """0.25 in are 6.35 mm."""
    for gap, closed in ((6.3, True), (6.4, False)):
        document = new(units=4)
        outline = [(0, 0), (4000, 0), (4000, 3000), (0, 3000), (0, gap)]
        document.modelspace().add_lwpolyline(outline, dxfattribs=WALL)
        assert only_shape(read(document, tmp_path)).closed is closed


def test_lines_on_other_layers_stay_open(tmp_path):
    document = drawn()
    document.modelspace().add_lwpolyline([*BOX, (0, 0)], dxfattribs={"layer": "CAP"})
    cap = read(document, tmp_path, layers__cap=("CAP",)).shapes[1]
    assert not cap.path.closed


def test_repeated_vertices_are_dropped_with_their_bulges(tmp_path):
    document = new()
    outline = [(0, 0, 0), (200, 0, 0.7), (200, 0, 0), (200, 100, 0), (0, 100, 0), (0, 0, 0.5)]
    document.modelspace().add_lwpolyline(outline, format="xyb", close=True, dxfattribs=WALL)
    path = only_shape(read(document, tmp_path))
    assert path.vertices == ((0, 0, 0), (200, 0, 0), (200, 100, 0), (0, 100, 0))


def test_labels_are_plain_text_on_name_and_corner_layers(tmp_path):
    document = drawn()
    space = document.modelspace()
    space.add_text("North", dxfattribs={"layer": "NAMES", "insert": (20, 30)})
    space.add_text("%%uEast%%u", dxfattribs={"layer": "NAMES"}).set_placement(
        (60, 40), align=ezdxf_middle()
    )
    space.add_mtext(r"{\fArial|b1;Gable}\Pend", dxfattribs={"layer": "NAMES", "insert": (50, 70)})
    space.add_text("C1", dxfattribs={"layer": "CORNERS", "insert": (0, 10)})
    space.add_text("not a label", dxfattribs={"layer": "CAP", "insert": (0, 10)})
    drawing = read(
        document,
        tmp_path,
        layers__name=("NAMES",),
        layers__outside_corner=("CORNERS",),
        layers__cap=("CAP",),
    )
    assert [(label.text, label.at) for label in drawing.labels] == [
        ("North", (20, 30)),
        ("East", (60, 40)),
        ("Gable end", (50, 70)),
        ("C1", (0, 10)),
    ]


def ezdxf_middle():
    from ezdxf.enums import TextEntityAlignment

    return TextEntityAlignment.MIDDLE_CENTER


def test_importing_the_package_does_not_import_the_dxf_library():
    import subprocess
    import sys

    modules = "dxf2veneer.drawing, dxf2veneer.drawing.layers"
    code = f"import sys, {modules}; sys.exit('ezdxf' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@pytest.mark.parametrize(
    ("read", "clean"),
    [
        ("A-WALL", "A-WALL"),
        ("Façade", "Façade"),
        ("\udcc4ussen", "Äussen"),  # 0xC4 is Ä in Windows-1252
        ("\udcc3\udc84ussen", "Äussen"),  # C3 84 is Ä in UTF-8
        ("\ud800x", "\ufffdx"),
    ],
)
def test_text_of_an_undeclared_code_page_is_made_writable(read, clean):
    assert clean_text(read) == clean
