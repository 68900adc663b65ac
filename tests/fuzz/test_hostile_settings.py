"""Job, product and price files of any content: right, or one line that says what is wrong,
and exit code 2.
"""

from __future__ import annotations

import pytest
from click.testing import CliRunner

from dxf2veneer.cli import main

DEEP = 3_000
HOSTILE = {
    "not a number": b"[courses]\nclearance = nan\n",
    "infinite": b"[trim]\nhead = inf\n",
    "thousands of digits": b"[trim]\nhead = " + b"9" * 5_000 + b"\n",
    "beyond floats": b"[drawing]\nscale = 1e999\n",
    "list for a length": b"[trim]\nhead = [1, [2, [3]]]\n",
    "date for a length": b"[trim]\nhead = 2020-01-01\n",
    "brackets thousands deep": b"[trim]\nhead = " + b"[" * DEEP + b"]" * DEEP + b"\n",
    "tables thousands deep": b"[job]\nname = " + b"{a=" * DEEP + b"1" + b"}" * DEEP + b"\n",
    "word of ten megabytes": b'[output]\ndisplay = "' + b"x" * 10_000_000 + b'"\n',
    "length of thousands of digits": b'[trim]\nhead = "' + b"9" * 6_000 + b' mm"\n',
    "null byte": b'[job]\nname = "a\x00b"\n',
    "null byte in a file's name": b'[product]\nfile = "a\\u0000b"\n',
    "utf-16": '[job]\nname = "a"\n'.encode("utf-16"),
    "latin-1": b'[job]\nname = "\xe4"\n',
    "half a point": b"[limits]\npoints = 1.5\n",
    "prices in bytes": b'[order]\nprices = "prices.csv"\n',
    "product of a job's kind": b'[product]\nfile = "job.toml"\n',
}


@pytest.mark.parametrize("content", HOSTILE.values(), ids=HOSTILE.keys())
def test_one_line_and_exit_code_2(content, tmp_path):
    (tmp_path / "job.toml").write_bytes(content)
    (tmp_path / "prices.csv").write_bytes(b"\x00\xff," * 1_000 + b'\n"')
    ended = CliRunner().invoke(main, ["job", "check", str(tmp_path / "job.toml")])
    assert ended.exit_code == 2, ended.exception
    told = [line for line in ended.stderr.splitlines() if line.startswith("Error: ")]
    assert len(told) == 1
    assert len(told[0]) < 2_100


def test_a_note_of_ten_megabytes_is_a_note(tmp_path):
    (tmp_path / "job.toml").write_bytes(b'[job]\nnote = "' + b"x" * 10_000_000 + b'"\n')
    assert CliRunner().invoke(main, ["job", "check", str(tmp_path / "job.toml")]).exit_code == 0
