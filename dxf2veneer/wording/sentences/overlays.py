"""Sentences about overlays that can't be written."""

from dxf2veneer.wording.phrases import Sentence

_ONLY = "add --overlay-only to write just our layers"

SENTENCES: dict[str, Sentence] = {
    "layer-form-broken": "output.layer_prefix {prefix:quoted} is not a discipline letter, a major "
    "group of four characters and at most one minor group, with hyphens between them",
    "layer-letter-of-survey": "output.layer_prefix {prefix:quoted} begins with V, the letter of "
    "survey and mapping; veneer is architectural, A",
    "overlay-not-copied": "{file}: can't be copied ({reason}); " + _ONLY,
    "overlay-not-copied-whole": "{file}: can't be copied whole ({reason}); " + _ONLY,
    "overlay-tables-damaged": "{file}: can't be copied, its tables are damaged ({reason}); "
    + _ONLY,
    "overlay-loses-entities": "{file}: can't be copied whole as {version}, which has no place for "
    "{entities}; leave out --dxf-version, or " + _ONLY,
    "overlay-over-drawing": "{file}: the overlay would overwrite the drawing itself; name another "
    "folder",
    "overlay-prefix-long": "{file}: output.layer_prefix {prefix:quoted} is too long for "
    "{old:an R12 drawing|a drawing}, whose layer names hold {most} characters; shorten it by "
    "{over}",
}
