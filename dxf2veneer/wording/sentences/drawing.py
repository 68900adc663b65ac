"""Sentences about reading drawings and their unit."""

from collections.abc import Mapping
from typing import Any

from dxf2veneer.basics.messages import Value
from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.wording.measures import titles, unit_options
from dxf2veneer.wording.phrases import Sentence, Words

_ANEW = "save it anew as DXF from your CAD program"
_LAYER = "the {walls:wall layer|layer} {layers}"


def _repaired(v: Mapping[str, Value], words: Words) -> str:
    first: Any = v["first"]
    named = "".join(f"; {words.show(repair)}" for repair in first)
    return (
        f"the file is damaged ({words.show(v['reason'])}); it was read with {v['n']} repairs, "
        f"and parts may be missing{named}"
    )


def _attribute_missing(v: Mapping[str, Value], words: Words) -> str:
    return f"it has no {str(v['name']).replace('_', ' ')}"


def _fits(v: Mapping[str, Value], words: Words) -> str:
    units: Any = v["units"]
    return f"{words.show(v['what'])}, which fits {titles(units)}"


def _missing_of_walls(v: Mapping[str, Value], words: Words) -> str:
    sizes: Any = v["sizes"]
    size = ", ".join(f"{n}: {words.show(w)} x {words.show(h)}" for n, w, h in sizes)
    evidence = words.show(v["evidence"], "after; ")
    likely = words.show(v["likely"], " or ")
    return (
        f"{words.show(v['why'])}; its walls measure {v['width']:g} x {v['height']:g} units "
        f"altogether, that is {size}{likely and '; likely ' + likely}{evidence}; "
        f"add --units {v['unit'] or 'and the right one'}"
    )


def _absurd(v: Mapping[str, Value], words: Words) -> str:
    better: Any = v["better"]
    advice = (
        f"with {unit_options(better)} it would make sense"
        if better
        else "no everyday unit would make sense of walls and openings"
    )
    return (
        f"the drawing is read in {unit_by_name(str(v['unit'])).title}, which makes its highest "
        f"{v['what']} {words.show(v['width'])} wide and {words.show(v['height'])} high; "
        f"{advice}"
    )


def _doubtful(v: Mapping[str, Value], words: Words) -> str:
    units: Any = v["units"]
    fitting: Any = v["fitting"]
    return (
        f"the drawing is read in {unit_by_name(str(v['unit'])).title}, but "
        f"{words.show(v['what'])}, which fits {titles(units)}; "
        f"if that is right, every length is {v['times']:.4g} times off: "
        f"add {unit_options(fitting)}"
    )


_FILES: dict[str, Sentence] = {
    "of-drawing": "{file}: {why}",
    "is-folder": "this is a folder; give a DXF file",
    "no-such-file": "there is no such file",
    "no-plain-file": "this is no plain file; give a DXF file",
    "file-unreadable": "can't be read ({reason})",
    "file-empty": "the file is empty; save the drawing as DXF again",
    "byte-order-mark": (
        "the file was saved by a text editor, with a byte-order mark before its text; " + _ANEW
    ),
    "is-dwg": (
        "this is a DWG file, whatever its name; save it as DXF in your CAD program and give that "
        "file"
    ),
    "is-pdf": (
        "this is a PDF; a DXF file is needed, saved from the CAD program that made the drawing"
    ),
    "not-dxf": (
        "this is no DXF file, or its beginning is damaged; save the drawing as DXF and give that "
        "file"
    ),
    "file-damaged": "the file is damaged or cut short ({reason}); " + _ANEW,
    "file-beyond-repair": "the file is damaged beyond repair ({reason}); " + _ANEW,
    "nothing-rescued": "the file is damaged ({reason}) and nothing could be rescued; " + _ANEW,
    "file-repaired": _repaired,
    "several-entities-sections": (
        "it holds {n} ENTITIES sections, of which only the last was read"
    ),
    "entities-unreadable": "left out what can't be read: {entities}",
    "no-model-space": "it has no model space",
    "breaks-off": "it breaks off",
    "library-says": "{text}",
    "file-too-large": (
        "the file has {megabytes:,.0f} megabytes, more than --limit-megabytes ({most:,}) allows; "
        "purge the drawing, or raise the limit"
    ),
    "entity-too-many-points": (
        "one entity{handle:after at handle } has {n:,} points, more than "
        "--limit-points ({most:,}) allows; delete or simplify it, or raise the limit"
    ),
    "too-many-entities": (
        "more entities lie on the named layers than --limit-named ({most:,}) allows; name fewer "
        "layers, or layers that hold outlines only, or raise the limit"
    ),
    "too-many-crossings": (
        "the loose lines on layer {layer} cross others more often than --limit-crossings "
        "({most:,}) allows; name layers that hold outlines only, delete hatching drawn as lines, "
        "or raise the limit"
    ),
    "whole-copy": (
        "turning the whole drawing ({megabytes:,.0f} MB) into another version or form takes far "
        "longer than the takeoff; it is faster without --dxf-version and --binary"
    ),
    "external-reference": "block {block} refers to {file}, which is not read",
    "external-reference-unnamed": (
        "block {block} refers to a file that is not named, which is not read"
    ),
}

_LAYERS: dict[str, Sentence] = {
    "no-wall-layer": "no wall layer is named; add --wall-layer (see: dxf2veneer layers {file})",
    "see-layers": "{why}; for all layers run: dxf2veneer layers {file}",
    "layers-missing": f"nothing lies on {_LAYER}; the nearest layers are {{nearest}}",
    "layers-of-overlay": (
        f"{_LAYER} belongs to an overlay that this tool drew, which is never read as a drawing; "
        "name a layer of the drawing itself"
    ),
    "layers-without-outline": f"{_LAYER} is there, but nothing that could be an outline lies on it",
    "layer-bare": "layer {layer} is there, but nothing lies on it",
    "no-such-layer": "no layer matches {layer}; the nearest are {nearest}",
    "faces-hidden": "{hidden}; add --include-hidden to see its faces",
    "hidden-entities": "layer {layer}: {n} {n:entity|entities} left out, because {why}",
    "layer-frozen": "the layer is frozen",
    "layer-off": "the layer is off",
    "entity-invisible": "it is set invisible",
    "reference-on-frozen": "its block reference lies on layer {layer}, which is frozen",
    "reference-invisible": "its block reference is set invisible",
    "guess-wall": "{holding} of {of} outlines hold {held} outlines of other layers",
    "guess-openings": "{held} of {of} outlines lie inside outlines of other layers",
    "guess-corner-marks": "{n} of {of} lines stand along sides of probable walls",
    "guess-names": "{n} of {of} texts stand inside probable walls",
    "measured-walls": "closed outlines on {layers}",
    "measured-everything": "everything shown",
    "survey-sampled": (
        "the drawing is large: of {layers} {layers:layer|layers} a sample was measured "
        "({counted:,} entities were only counted)"
    ),
}

_ENTITIES: dict[str, Sentence] = {
    "kind-ignored": "layer {layer}: {n} {n:entity|entities} of kind {kind} left out",
    "entities-nameless": "{n} {n:entity|entities} of kind {kind} left out, naming no layer",
    "block-clipped": (
        "block {block}: {n} clipped {n:reference|references} read whole, beyond the clip boundary "
        "too"
    ),
    "entity-left-out": "{kind} left out: {why}",
    "reference-left-out": "reference to block {block} left out: {why}",
    "entity-unreadable": "its data can't be read ({library})",
    "attribute-missing": _attribute_missing,
    "coordinates-not-finite": "its coordinates are not all finite numbers",
    "control-points-not-finite": "its control points are not all finite numbers",
    "beyond-measure": "it reaches beyond what can be measured, farther out than any drawing does",
    "no-length": "it has no length",
    "fewer-than-two-points": "it has fewer than two points",
    "too-few-points": "it has too few points",
    "flattened-to-a-line": "it is flattened to a line",
    "no-direction": "its extrusion direction is no direction",
    "tilted": "its plane is tilted against the drawing's",
    "not-level": "it is not level: its points differ in z",
    "radius-unusable": "its radius is {radius}",
    "axis-unusable": "one of its axes is nothing",
    "no-boundary": "it has no boundary",
    "boundary-without-edges": "one of its boundaries has no edge of any length",
    "boundary-open": ("its boundary does not close: two of its edges lie farther apart than --gap"),
    "arc-radius-unusable": "one of its arcs has the radius {radius}",
    "ellipse-axis-unusable": "one of its ellipses has an axis of no length",
    "blocks-too-deep": "blocks are nested too deep to follow; explode or purge the drawing",
    "blocks-deeper": "blocks are nested deeper than {most}",
    "block-in-itself": "the block contains itself",
    "block-without-head": "the block has lost its head",
    "place-not-finite": "its place, scale or rotation is no finite number",
    "scale-zero": "its scale is zero",
    "places-too-many": (
        "it has {columns} columns and {rows} rows, more places than --limit-entities ({most:,}) "
        "allows"
    ),
    "references-too-many": (
        "block references nest to more than {most:,} entities (at handle {handle}); explode or "
        "purge the drawing, name fewer layers, or raise --limit-entities"
    ),
}

_OUTLINES: dict[str, Sentence] = {
    "gap-closed": "{kind}: a gap of {gap:fine} between its ends was closed",
    "layers-joined": "lines on layers {layers} close an outline together, {width} x {height}",
    "gap-between": "a gap of {gap:fine} between {first} and {second} was closed",
    "loose-lines": (
        "{n} loose {n:line|lines} on layer {layer} bound no closed outline and were left out"
    ),
    "window-crossed": "{kind} crosses the border of a window and was left out",
    "mark-in-no-face": "an opening mark lies in no face that lines bound",
    "mark-in-no-wall": "a wall mark lies in no wall outline",
}

_UNIT: dict[str, Sentence] = {
    "no-unit": "the drawing names no unit",
    "unit-code-unknown": "the drawing's unit code {code} ($INSUNITS) is unknown",
    "unit-missing": "{why}{evidence:after; }; add --units in, ft, mm, cm or m",
    "unit-missing-of-walls": _missing_of_walls,
    "units-absurd": _absurd,
    "units-doubtful": _doubtful,
    "evidence-fits": _fits,
}

SENTENCES: dict[str, Sentence] = {
    **_FILES,
    **_LAYERS,
    **_ENTITIES,
    **_OUTLINES,
    **_UNIT,
}
