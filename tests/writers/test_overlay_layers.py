"""The overlay's layers: legible on black and on white, told apart without color, documented."""

from __future__ import annotations

import fnmatch
import itertools
import math
import re
import tomllib
from pathlib import Path

import ezdxf
import pytest
from builders import JOB, drawing, write_dxf
from ezdxf.colors import aci2rgb
from ezdxf.lldxf.const import VALID_DXF_LINEWEIGHTS
from laid_out import laid_out
from takeoffs import takeoff

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import Job, Layers, with_settings
from dxf2veneer.config.layer_names import prefix_amiss
from dxf2veneer.config.settings import described
from dxf2veneer.drawing.entities.ours import APPID
from dxf2veneer.writers.overlay import write_overlay
from dxf2veneer.writers.overlay.advised import layer_name
from dxf2veneer.writers.overlay.layers import (
    LAYERS,
    LINETYPES,
    REVISED_LAYERS,
    TEXT_LAYERS,
    EntityTags,
    layer_names,
)

DOCS = Path(__file__).parents[2] / "docs" / "overlay.md"
BLACK, WHITE = (0, 0, 0), (255, 255, 255)
BLACK_OR_WHITE = 7  # every program draws it in the color that its background is not


def luminance(rgb) -> float:
    """Relative luminance of sRGB (WCAG 2.1, definition of relative luminance; from memory)."""
    parts = [c / 255 for c in rgb]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a, b) -> float:
    lighter, darker = sorted((luminance(a), luminance(b)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_contrast_of_black_and_white_is_21():
    assert contrast(BLACK, WHITE) == pytest.approx(21)
    assert contrast(aci2rgb(2), WHITE) < 3  # yellow: the measure can fail


@pytest.mark.parametrize(
    "look",
    [look for look in (*LAYERS.values(), *REVISED_LAYERS.values()) if look.color != BLACK_OR_WHITE],
    ids=lambda look: look.suffix,
)
def test_colors_stand_out_from_black_and_from_white(look):
    rgb = aci2rgb(look.color)
    assert min(contrast(rgb, BLACK), contrast(rgb, WHITE)) >= 3


def test_line_layers_can_be_told_apart_without_color():
    lines = [
        look for key, look in LAYERS.items() if key not in TEXT_LAYERS
    ]  # texts tell themselves
    edges = [LAYERS[k] for k in ("outside", "inside", "end", "butt", "mitre")]
    assert len({(e.linetype, e.lineweight) for e in edges}) == len(edges)
    assert len({(look.linetype, look.lineweight) for look in lines}) == len(lines)
    assert len({look.color for look in LAYERS.values()}) == len(LAYERS)


VISIONS = {
    "full": ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "no red": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "no green": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "no blue": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
"""What linear sRGB looks like to eyes that lack one kind of cone: Machado, Oliveira, Fernandes, A
physiologically-based model for simulation of color vision deficiency, IEEE TVCG 15 (2009), severity
1 (numbers from memory)."""

XYZ = (
    (0.4124564, 0.3575761, 0.1804375),
    (0.2126729, 0.7151522, 0.0721750),
    (0.0193339, 0.1191920, 0.9503041),
)
"""Linear sRGB to CIE XYZ (IEC 61966-2-1; numbers from memory)."""

APART = 8.0
"""CIELAB distance that lines keep in all four visions; some 2.3 is just noticeable (Mahy, Van
Eycken, Oosterlinck 1994; from memory)."""

SHAPES = ("sliver", "notice", "glued", "fragile")
"""Layers that are told by what is drawn on them: filled, hatched, diamonds, triangles."""


def times(matrix, vector) -> list[float]:
    return [sum(a * b for a, b in zip(row, vector, strict=True)) for row in matrix]


def lab(color: int, vision) -> tuple[float, float, float]:
    """CIELAB of a color number as some eyes see it (CIE 15, white of the display)."""
    parts = [c / 255 for c in aci2rgb(color)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    seen = [min(max(c, 0.0), 1.0) for c in times(vision, linear)]
    white = times(XYZ, (1.0, 1.0, 1.0))
    shares = [a / b for a, b in zip(times(XYZ, seen), white, strict=True)]
    x, y, z = (
        t ** (1 / 3) if t > (6 / 29) ** 3 else t / (3 * (6 / 29) ** 2) + 4 / 29 for t in shares
    )
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def distance(a: int, b: int) -> float:
    """The least distance of two colors in all four visions."""
    return min(math.dist(lab(a, vision), lab(b, vision)) for vision in VISIONS.values())


def test_red_and_a_dark_yellow_are_one_color_without_green():
    # the measure can fail: they are far apart to full sight
    assert math.dist(lab(1, VISIONS["full"]), lab(44, VISIONS["full"])) > 50
    assert distance(1, 44) < 1


def test_lines_stay_apart_to_color_blind_eyes():
    """Lines of one linetype keep a distance in color, or one is at least twice as heavy; what else
    is drawn differs in shape.
    """
    lines = [look for key, look in LAYERS.items() if key not in TEXT_LAYERS and key not in SHAPES]
    for a, b in itertools.combinations(lines, 2):
        if a.linetype == b.linetype:
            light, heavy = sorted((a.lineweight, b.lineweight))
            far = BLACK_OR_WHITE in (a.color, b.color) or distance(a.color, b.color) >= APART
            assert far or heavy >= 2 * light, (a.suffix, b.suffix)


def test_names_keep_to_fields_of_four_characters():
    assert all(
        re.fullmatch(r"A-ELEV-VENR-[A-Z]{4}", name) for name in layer_names("A-ELEV-VENR").values()
    )
    assert len(set(layer_names("A-ELEV-VENR").values())) == len(LAYERS)


def test_the_documented_table_is_the_real_one():
    rows = [
        f"| A-ELEV-VENR-{k.suffix} | {k.color} | {k.lineweight / 100:.2f} | {k.linetype} | "
        f"{k.content} |"
        for k in LAYERS.values()
    ]
    documented = [
        line for line in DOCS.read_text("utf-8").splitlines() if line.startswith("| A-ELEV-VENR-")
    ]
    assert documented == rows


SETS = {
    "walls": {"wall", "opening", "label", "cap", "trim"},
    "edges": {"outside", "inside", "end", "butt", "mitre"},
    "courses": {"course", "number", "height", "starter"},
    "pieces and cuts": {
        "joint", "shaped", "corner", "glued", "cut", "piece", "change", "blend",
    },
    "checks": {"sliver", "notice", "off", "rule", "fragile"},
    "legend": {"legend", "title"},
}  # fmt: skip
"""What a detailer wants to see alone (our own division)."""


def patterns():
    """The documented pattern of each set."""
    rows = re.findall(r"^\| `(.+)` \| ([a-z ]+) \|", DOCS.read_text("utf-8"), re.MULTILINE)
    return {what: pattern for pattern, what in rows if pattern.startswith("*")}


def test_one_pattern_finds_one_set_and_sets_stand_together_in_a_list_by_name():
    names = layer_names("A-ELEV-VENR")
    assert patterns().keys() == SETS.keys()
    for what, pattern in patterns().items():
        assert set(fnmatch.filter(names.values(), pattern)) == {names[k] for k in SETS[what]}
    listed = [n[:-3] for n in sorted(names.values())]
    assert len([s for s, _ in itertools.groupby(listed)]) == len(SETS)


def test_a_set_read_again_from_the_overlay_holds_what_it_says(tmp_path):
    source = tmp_path / "source.dxf"
    ezdxf.new().saveas(source)
    made = laid_out()
    write_overlay(made, made.drawings[0], source, tmp_path / "courses.dxf")
    space = ezdxf.readfile(tmp_path / "courses.dxf").modelspace()

    def shown(what):
        alone = fnmatch.translate(patterns()[what])
        found = [e for e in space if re.match(alone, e.dxf.layer)]
        return {e.get_xdata(APPID)[0].value.removeprefix("what=") for e in found}

    assert shown("courses") == {"course line", "course number", "course height", "starter"}
    assert {"joint", "piece text", "corner piece", "hand"} <= shown("pieces and cuts")
    assert not shown("pieces and cuts") & (shown("courses") | shown("checks") | shown("walls"))
    found = [len(space.query(f'*[layer ? "{p.replace("*", ".*")}"]')) for p in patterns().values()]
    assert all(found[2:]) and sum(found) == len(space)


def test_every_tag_is_documented():
    keys = set(re.findall(r"^\| ([a-z]+) \| ", DOCS.read_text("utf-8"), re.MULTILINE)) - {
        "key",
        "layer",
        "pattern",
    }
    assert keys == set(EntityTags.__slots__)
    assert f"`{APPID}`" in DOCS.read_text("utf-8")


@pytest.mark.parametrize("ltscale", [1.0, 48.0])
def test_layers_and_linetypes_are_written_as_the_table_says(tmp_path, ltscale):
    source = tmp_path / "source.dxf"
    doc = ezdxf.new("R2018")
    doc.header["$LTSCALE"] = ltscale
    doc.saveas(source)
    result = takeoff()
    write_overlay(result, result.drawings[1], source, tmp_path / "courses.dxf")  # in mm
    doc = ezdxf.readfile(tmp_path / "courses.dxf")
    for key, name in layer_names("A-ELEV-VENR").items():
        layer, look = doc.layers.get(name), LAYERS[key]
        assert (layer.dxf.color, layer.dxf.linetype, layer.dxf.lineweight) == (
            look.color,
            look.linetype,
            look.lineweight,
        )
        assert look.lineweight in VALID_DXF_LINEWEIGHTS
    dash = doc.linetypes.get("VENR-DASH").pattern_tags.tags
    # 0.5 of a course of 8 in = 101.6 mm on the sheet, whatever $LTSCALE multiplies it with
    assert next(t.value for t in dash if t.code == 49) * ltscale == pytest.approx(101.6)
    assert set(LINETYPES) <= {line.dxf.name for line in doc.linetypes}


def test_the_prefix_is_the_users(tmp_path):
    source = tmp_path / "source.dxf"
    ezdxf.new().saveas(source)
    made = takeoff()
    job = with_settings(made.job, output__layer_prefix="X-STON")
    made = type(made)(**{f: getattr(made, f) for f in made.__dataclass_fields__} | {"job": job})
    write_overlay(made, made.drawings[0], source, tmp_path / "courses.dxf")
    used = {e.dxf.layer for e in ezdxf.readfile(tmp_path / "courses.dxf").modelspace()}
    assert used <= set(layer_names("X-STON").values())


@pytest.mark.parametrize(
    ("prefix", "told"),
    # United States National CAD Standard, version 5, layer guidelines, section 1 (read in two
    # summaries): discipline of one or two letters, major group of four characters, minor groups of
    # four, with hyphens between; V is survey and mapping
    [
        ("A-ELEV-VENR", None),
        ("AI-WALL", None),
        ("a-elev-venr", None),
        ("V-ELEV-VENR", "layer-letter-of-survey"),
        ("STONE", "layer-form-broken"),
        ("A-ELEVATION", "layer-form-broken"),
        ("A-ELEV-VENR-X", "layer-form-broken"),
        ("A-ELEV-VENR-PART", "layer-form-broken"),  # ours would be a third minor group
        ("K-ELEV-VENR", "layer-form-broken"),
        ("A_ELEV_VENR", "layer-form-broken"),
    ],
)
def test_a_prefix_that_breaks_the_standards_form_is_told(prefix, told):
    amiss = prefix_amiss(prefix)
    assert (amiss and amiss.code) == told


def test_names_of_the_overlay_and_of_the_template_follow_the_standard():
    form = re.compile(r"[A-Z]{1,2}-[A-Z0-9]{4}(-[A-Z0-9]{4}){0,2}")
    names = [*layer_names(Job().output.layer_prefix).values(), layer_name("A-ELEV-VENR", 1)]
    for _, about, _ in described(Layers):
        names += [n.replace("*", "FULL") for n in tomllib.loads(f"x = {about.like}")["x"]]
    assert len(names) > 40
    assert [n for n in names if not form.fullmatch(n) or n.startswith("V")] == []


def test_a_prefix_that_breaks_the_form_warns_in_the_takeoff(tmp_path):
    file = write_dxf(drawing(wall=[(0, 0, 120, 80)]), tmp_path / "front.dxf")
    told = {}
    for prefix in ("A-ELEV-VENR", "V-STON"):
        made = take_off([file], with_settings(JOB, output__layer_prefix=prefix))
        told[prefix] = [n.level for n in made.notices if n.code == "LAYER_PREFIX_FORM"]
    assert told == {"A-ELEV-VENR": [], "V-STON": ["warning"]}


@pytest.mark.parametrize("display", ["imperial", "metric"])
def test_no_line_of_the_legend_is_cut_short(tmp_path, display):
    source = write_dxf(drawing(**{"wall": [(0, 0, 200, 96)]}), tmp_path / "source.dxf")
    made = take_off(source, with_settings(JOB, output__display=display))
    write_overlay(made, made.drawings[0], source, tmp_path / "courses.dxf")
    legend = ezdxf.readfile(tmp_path / "courses.dxf").modelspace().query(
        f'TEXT[layer == "{layer_names(made.job.output.layer_prefix)["legend"]}"]'
    )
    texts = [e.dxf.text for e in legend]
    assert any(text.startswith("pieces: ") for text in texts)
    assert not [text for text in texts if text.endswith("…")]
