"""Sentences of the page in which a proposal is confirmed."""

from dxf2veneer.wording.phrases import Sentence

SENTENCES: dict[str, Sentence] = {
    "page-edit-wrong": "the page asked for a change that there is none of: load it again",
    "page-still-looking": (
        "the drawing is still being looked at for views, walls and openings: a moment"
    ),
    "page-outline-encloses-nothing": (
        "these corners enclose no area: the sides cross, or lie on one line"
    ),
    "page-unit-needs-length": (
        "point at two ends that lie apart, and say how long that is, such as 3'-0\" or 914 mm"
    ),
    "page-no-edge": "no wall has a place for {kind} here: point at an edge of one",
    "page-no-wall-beside": "no wall lies beside this outline: make it a wall of its own",
    "page-wall-with-hole": (
        "that would leave a hole in the wall: make it an opening, or choose another outline"
    ),
    "page-line-bounds-nothing": (
        "this line bounds no wall: point at a line in one, or along the side that is to move"
    ),
    "page-section-taken": "{section} must be a section of the job file, [{section}]",
    "page-job-unreadable": "the job file is not valid TOML: {reason}",
    "page-job-changed": (
        "{file} was changed by another hand since the page read it: nothing was written over it"
    ),
    "page-job-unwritable": "{file} can't be written: {why}",
    "page-port-taken": "port {port} can't be used: {why}",
}
