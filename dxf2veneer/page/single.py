"""The page in one file that needs no server: for looking, and for taking the job file's text out.

It holds the same modules as the served page, one after the other, and what the server would answer.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
from importlib.resources import files
from pathlib import Path
from typing import Any

from dxf2veneer.app.proposing import Seen
from dxf2veneer.config.job import Job
from dxf2veneer.page.figures import figures, job_of
from dxf2veneer.page.history import History
from dxf2veneer.page.job_file import JobFile
from dxf2veneer.page.marks import Unit, proposed
from dxf2veneer.page.opened import opened_of
from dxf2veneer.page.state import state_of
from dxf2veneer.textio.escaping import for_script
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole

_MODULES = (
    "talk",
    "camera",
    "unpack",
    "hatching",
    "picture",
    "overlay",
    "shown",
    "tally",
    "courses",
    "taken",
    "hand",
    "pointing",
    "main",
)
"""The page's modules, each after those that it imports; no two have a name in common."""
_IMPORT = re.compile(r"^import .*?;\n", re.MULTILINE)
_EXPORT = re.compile(r"^export ", re.MULTILINE)


def write_page(seen: Seen, job: Job, path: Path) -> None:
    """Write a proposal as one page, whole or not at all.

    Args:
        seen: The drawing and its proposal.
        job: How it was read.
        path: The file to write (HTML).

    Raises:
        OSError: Nothing can be written there.
    """
    text = page_text(seen, job)
    write_whole(path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n"))


def page_text(seen: Seen, job: Job) -> str:
    """A proposal as one page.

    Args:
        seen: The drawing and its proposal.
        job: How it was read.

    Returns:
        HTML that opens without a network and changes nothing.
    """
    opened = opened_of(seen, job)
    unit = Unit(job.drawing.units or seen.proposal.unit, job.drawing.scale)
    marks = proposed(seen.proposal, unit)
    job_file = Path(f"{seen.path.stem}-proposed.toml")
    state = state_of(
        opened,
        History(marks),
        revision=1,
        job_file=job_file,
        is_saved=False,
        trouble="",
        unfit=frozenset(),
        display=job.output.display,
    )
    text = JobFile(job_file, "", "", {}).text_with(marks, confirmed=False, sha256=opened.sha256)
    data = {
        "state": state,
        "figures": {"revision": 1, **figures(seen.path, job_of(job, marks), marks)},
        "job": text,
    }
    kept = [_data(name, value) for name, value in data.items()]
    packed = base64.b64encode(opened.lines).decode()
    kept.append(f'<script type="text/plain" id="kept-drawing">{packed}</script>')
    return _assembled("\n".join(kept))


def _data(name: str, value: Any) -> str:
    text = for_script(json.dumps(value, ensure_ascii=False, allow_nan=False))
    return f'<script type="application/json" id="kept-{name}">{text}</script>'


def _assembled(kept: str) -> str:
    """The page with style, modules and data inside; nothing but these very scripts may run."""
    folder = files("dxf2veneer.page") / "assets"
    style = (folder / "page.css").read_text(encoding="utf-8")
    script = "\n".join(
        _EXPORT.sub("", _IMPORT.sub("", (folder / f"{name}.js").read_text(encoding="utf-8")))
        for name in _MODULES
    )
    policy = (
        f"default-src 'none'; script-src {_digest(script)}; style-src {_digest(style)}; "
        "base-uri 'none'; form-action 'none'"
    )
    page = (folder / "page.html").read_text(encoding="utf-8")
    page = page.replace('<link rel="icon" href="icon.svg">\n', "")
    page = page.replace(
        '<meta charset="utf-8">',
        f'<meta charset="utf-8">\n<meta name="generator" content="{BLANK_SEAL}">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">',
    )
    page = page.replace('<link rel="stylesheet" href="page.css">', f"<style>{style}</style>")
    page = page.replace('<script type="module" src="main.js"></script>\n', "")
    end = f'{kept}\n<script type="module">{script}</script>\n</body>'
    return page.replace("</body>", end)


def _digest(text: str) -> str:
    """What a policy names an inline script or style by."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"
