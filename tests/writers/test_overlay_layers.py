"""The overlay's layers: legible on black and on white, told apart without color, documented."""

from __future__ import annotations

import re
from pathlib import Path

import ezdxf
import pytest
from ezdxf.colors import aci2rgb
from ezdxf.lldxf.const import VALID_DXF_LINEWEIGHTS
from takeoffs import takeoff

from dxf2veneer.config.job import with_settings
from dxf2veneer.writers.overlay import write_overlay
from dxf2veneer.writers.overlay.layers import (
    APPID,
    LAYERS,
    LINETYPES,
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
    [look for look in LAYERS.values() if look.color != BLACK_OR_WHITE],
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


def test_every_tag_is_documented():
    keys = set(re.findall(r"^\| ([a-z]+) \| ", DOCS.read_text("utf-8"), re.MULTILINE)) - {
        "key",
        "layer",
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
