"""Files appear whole or not at all."""

from __future__ import annotations

import pytest

from dxf2veneer.textio.whole_files import write_whole


def test_the_file_replaces_the_old_one_and_nothing_else_is_left(tmp_path):
    target = tmp_path / "out.txt"
    target.write_text("old")
    write_whole(target, lambda draft: draft.write_text("new"))
    assert target.read_text() == "new"
    assert list(tmp_path.iterdir()) == [target]


def test_a_failure_half_way_leaves_the_old_file_alone(tmp_path):
    target = tmp_path / "out.txt"
    target.write_text("old")

    def half(draft):
        draft.write_text("ne")
        raise RuntimeError("stopped")

    with pytest.raises(RuntimeError, match="stopped"):
        write_whole(target, half)
    assert target.read_text() == "old"
    assert list(tmp_path.iterdir()) == [target]


def test_the_draft_has_the_same_ending_and_stands_beside(tmp_path):
    seen = []
    write_whole(tmp_path / "a.xlsx", lambda draft: seen.append(draft) or draft.write_text(""))
    assert seen[0].parent == tmp_path and seen[0].suffix == ".xlsx"


def test_a_link_is_followed(tmp_path):
    (tmp_path / "real.txt").write_text("old")
    (tmp_path / "link.txt").symlink_to(tmp_path / "real.txt")
    write_whole(tmp_path / "link.txt", lambda draft: draft.write_text("new"))
    assert (tmp_path / "real.txt").read_text() == "new" and (tmp_path / "link.txt").is_symlink()
