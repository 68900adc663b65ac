"""A proposal as JSON, for other programs: outlines as lists of points, in drawing units."""

from __future__ import annotations

import json
from pathlib import Path

from dxf2veneer.propose import Proposal
from dxf2veneer.textio.escaping import for_json
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole


def result_text(proposal: Proposal) -> str:
    """The proposal as JSON.

    Args:
        proposal: What was found in the drawing.

    Returns:
        The text, with a blank seal.
    """
    sealed = {**proposal.as_json(), "made_by": BLANK_SEAL}
    return for_json(json.dumps(sealed, indent=2, ensure_ascii=False, allow_nan=False)) + "\n"


def write_result(proposal: Proposal, path: Path) -> None:
    """Write the proposal as UTF-8 JSON, whole or not at all.

    Args:
        proposal: What was found in the drawing.
        path: The file to write.

    Raises:
        OSError: Nothing can be written there.
    """
    text = result_text(proposal)
    write_whole(path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n"))
