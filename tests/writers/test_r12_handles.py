"""An R12 file without handles gets none, whatever its texts say."""

from __future__ import annotations

import pytest

from dxf2veneer.writers.overlay.graft.anatomy import anatomy_of

_FILE = "0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
_TEXT = "0\nTEXT\n8\nNOTES\n10\n0.0\n20\n0.0\n1\n{words}\n40\n2.5\n"
_LINE = "0\nLINE\n5\n1F\n8\nNOTES\n10\n0.0\n20\n0.0\n11\n1.0\n21\n0.0\n"


@pytest.mark.parametrize(
    ("entities", "handles"),
    [
        (_TEXT.format(words="5"), False),  # "5" with "40" behind it reads like a handle
        (_TEXT.format(words="105"), False),
        (_TEXT.format(words="5") + _LINE, True),
        (_LINE, True),
    ],
)
def test_a_text_that_reads_like_a_handle_is_none(entities, handles):
    anatomy = anatomy_of(_FILE.format(entities=entities).encode(), None)
    assert anatomy.version == "AC1009" and anatomy.has_handles is handles
