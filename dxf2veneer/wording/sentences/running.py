"""Sentences about a run: its steps, its inputs and outputs, batches, a watch over drawings."""

from __future__ import annotations

from collections.abc import Mapping

from dxf2veneer.basics.messages import Value
from dxf2veneer.wording.notice_catalog import remedy
from dxf2veneer.wording.phrases import Sentence, Words


def _no_usable_outline(values: Mapping[str, Value], words: Words) -> str:
    handle, more, trouble = values["handle"], values["more"], values["trouble"]
    place = f", handle {handle}" if handle else ""
    others = f" (and {more} more like it)" if more else ""
    return (
        f"{words.show(values['files'])}: no usable wall outline; "
        f"{words.show(trouble)}{place}{others}. {remedy(str(values['notice']))}"
    )


_STAGES = {
    "config": "reading the settings",
    "drawing": "reading the drawing",
    "propose": "looking at the drawing as a whole",
    "recognise": "recognizing walls and openings",
    "site": "taking in the site measures",
    "measure": "measuring",
    "coursing": "laying out courses",
    "planning": "laying panels",
    "verify": "checking the numbers",
    "order": "making the order",
    "writers": "writing",
    "page": "serving the page",
}
"""What the rooms of the package do."""


def _fault(values: Mapping[str, Value], words: Words) -> str:
    files, room = words.show(values["files"]), str(values["room"])
    stage = f" while {_STAGES[room]}" if room in _STAGES else ""
    place = f" at {values['place']}" if values["place"] else ""
    return (
        f"{files}{files and ': '}an unexpected fault{stage} ({values['kind']}: {values['text']})"
        f"{place}; nothing more was done; report this line to the makers of this tool with the "
        "file, --debug shows the whole trace"
    )


def _worker_lost(values: Mapping[str, Value], words: Words) -> str:
    step, most = values["step"], values["megabytes"]
    at = f"; it was {words.show(step)}" if step else ""
    lack = "perhaps for lack of memory: try it with --workers 1"
    why = f"it may take {most:,} MB (--limit-memory)" if most else lack
    files = f"{words.show(values['files'])} ({values['size']:.3f} MB)"
    return f"{files}: the process that worked on it ended early{at}; {why}"


_UNCHANGED = "what stood there before is unchanged"

SENTENCES: dict[str, Sentence] = {
    # steps of a takeoff
    "reading-drawing": "reading {file}",
    "recognizing": "recognizing walls and openings",
    "measuring-wall": "measuring {wall}",
    "keeping-plan": "keeping what can be kept of the plan",
    "laying-panels": "laying panels",
    "judging-plan": "judging the plan",
    "comparing-plan": "comparing plans, {number} of {plans}: {aim}",
    "making-order": "making the order",
    "writing-file": "writing {file}",
    "earlier-write-finished": "finished what an earlier run had begun to write",
    # a job that can't be taken off
    "wall-layer-not-named": (
        "no wall layer is named; add --wall-layer LAYER or layers.wall in the job file "
        "(dxf2veneer layers DRAWING shows the layers)"
    ),
    "pdf-not-available": (
        '{option}: a PDF needs an optional extra: pip install "dxf2veneer[pdf]"; without it, print '
        "the page of --report from a browser, and let the name after --bid end in .xlsx"
    ),
    "ending-unknown": "{option}: {file} has an ending that is not known; write {endings}",
    "no-outline": (
        "{files}: no closed wall outline on the named layers; see: dxf2veneer layers {first}"
    ),
    "no-usable-outline": _no_usable_outline,
    "wall-too-big": (
        "{file}: {wall} on layer {layer} (handle {handle}) measures {width} x {height}, "
        "more courses or panels side by side than --limit-courses ({most:,}) allows; "
        "check the drawing's unit, or raise the limit"
    ),
    "search-ended-at-limit": (
        "the search for the fewest panels ended after {branches:,} branches, before it had proved "
        "that there are none fewer"
    ),
    "plan-too-big": (
        "about {about:,} panels, more than the {most:,} that are laid out; "
        "they are estimated by area"
    ),
    # inputs and outputs
    "drawing-named-twice": "{file} is named twice and would count twice",
    "output-is-input": "{file} is an input and would be overwritten; choose another folder with -o",
    "output-written-twice": (
        "{file} would be written twice; choose another file with --json, --report or --pdf"
    ),
    "output-is-folder": (
        "{file} is a folder, so no file can be written there; choose another name"
    ),
    "output-is-device": "{file} is a device, not a file; choose another name",
    "hand-changes-apart": (
        "{changes} changes by hand are in the workbook alone: letter, report, tables and JSON do "
        "not include them"
    ),
    "changes-not-read": (
        "{file} does not say what was computed for its cells, so changes in it can't be kept: it "
        "is no workbook of this version; keep it under another name, or leave --keep-changes out"
    ),
    "workbook-not-opened": "{file}: its changes can't be read ({why})",
    "hand-change-kept": (
        "Kept by hand: {sheet}, {row}, {heading}: {by_hand} (computed: {computed})"
    ),
    "hand-change-lost": (
        "NOT kept: {sheet}, {row}, {heading}: {by_hand} (computed: {computed}); "
        "this takeoff has no such cell, or it is a formula that has no value"
    ),
    "output-not-ours": (
        "{file} is there already, and this tool did not write it or it was changed since; "
        "keep it under another name, choose another place, or add --force to replace it"
    ),
    "file-not-ours": (
        "{file} is there already, and this tool did not write it or it was changed since; "
        "choose another name, or take that file away first"
    ),
    "folder-is-file": "{file} is a file, not a folder; choose another place with {option}",
    "folder-of-each-is-file": (
        "{file} is a file, not a folder; choose another place with {option}, "
        "which names a folder with --each"
    ),
    "file-not-written": "can't write {file}: {why}; " + _UNCHANGED,
    "file-not-replaced": (
        "can't replace {file}: {why}; is it open in another program? " + _UNCHANGED
    ),
    "folder-not-writable": (
        "can't write {file}: no file can be made in {folder} ({why}); " + _UNCHANGED
    ),
    "cannot-write": "can't write {file}: {why}",
    "no-layer-typed": (
        "{files}: no layer matches {option} {pattern}; the nearest are {nearest}; "
        "nothing was written"
    ),
    # a batch of drawings
    "record-not-kept": "can't keep the record in {folder}: {why}",
    "worker-lost": _worker_lost,
    "memory-ran-out": (
        "{file}: the memory ran out; work on fewer drawings at once (--workers), raise "
        "--limit-memory where it is given, or split the drawing"
    ),
    "over-time": (
        "{files} ({size:.3f} MB): not done after {seconds:plain} s{step:after; it was }; raise "
        "--limit-seconds, or look whether the drawing holds what no building has"
    ),
    "scheduler-not-installed": (
        '--scheduler: other machines need an optional extra: pip install "dxf2veneer[distributed]"'
    ),
    "scheduler-silent": (
        "--scheduler {address}: no scheduler answers there ({why}); start one with: dask scheduler"
    ),
    "scheduler-no-workers": (
        "--scheduler {address}: it has no worker after {seconds:plain} s; start some with: "
        "dask worker {address} --nthreads 1"
    ),
    "scheduler-other-version": (
        "--scheduler {address}: the worker at {worker} has {found}, not dxf2veneer {version}; "
        "install the same there"
    ),
    "fault": _fault,
    # a watch over drawings
    "file-gone": "{file}: there is no such file now",
    "watched-file-unreadable": "{file}: can't be read ({why})",
    "watched-file-empty": "{file}: it is empty",
    "file-breaks-off": (
        "{file}: it breaks off before its end mark (EOF): still being written, or cut short"
    ),
}
