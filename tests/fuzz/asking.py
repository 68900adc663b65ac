"""What a person or a script may ask for: settings, options, picks, price and product files.

A trial is a command line and the files that it names, made from a number. Settings are drawn from
those that describe themselves (``config``), their values from what such settings take and from what
nobody means; tables and workbooks of prices are damaged in their text, their cells and their bytes.
"""

from __future__ import annotations

import io
import json
import os
import random
import tempfile
import zipfile
from dataclasses import dataclass
from pathlib import Path

import openpyxl
from click.testing import CliRunner
from trial import LONGEST, SECONDS, Failure, at_most, failure_from

from dxf2veneer.cli import main
from dxf2veneer.config.job import SECTIONS
from dxf2veneer.config.settings import described

SETTINGS = [(s, name, about) for s in SECTIONS for name, about, _ in described(SECTIONS[s])]
ODD = (
    "nan", "inf", "-inf", "1e308", "-1", "0", "0.0", "-0.0", "9" * 400, "1" + "0" * 5_000, "true",
    '""', '" "', '"nan"', '"1e999"', '"9/0"', "\"4'-6 1/2\\\"\"", '"200 mm"', '"-3 ly"',
    '"1e9 mi"', '"' + "9" * 400 + '"', '"' + "9" * 400 + ' mm"', '"a\\u0000b"', '"\\u202e"',
    '"../../x"', '"=1+1"', "[]", "[1, [2]]", '[""]', '["a", "a"]', "{}", "{ a = 1 }",
    '[{ name = "x" }]', "2020-01-01", '["0,0"]', '["nan,1"]', '["1e308,-1e308"]',
    '["N=0,0,1e300,1e300"]', '["N=5,5,5,5"]', '["*"]', '["A-WALL", "A-OPNG"]', "12", "0.125",
    '"1/8"', '"full"', '"auto"', '"layout"', '"metric"',
)  # fmt: skip
PRICES = (
    "item,unit,price\nflat panel,each,12.5\n",
    "item;unit;price\nstarter strip;ft;1.2\nscrews;each;0.02\n",
    "item\tunit\tprice\tcurrency\tdate\nflat panel\teach\t9\tUSD\t2026-03-02\n",
    "item,unit,price\nflat panel,each,nan\n", "item,unit,price\n,,\n", "price\n1\n", "",
    'item,unit,price\n"flat panel,each,1\n', "item,unit,price\nflat panel,each,1e999\n",
)  # fmt: skip
DRAWING = Path(__file__).parent.parent.parent / "samples" / "gatehouse.dxf"


@dataclass(frozen=True)
class Asked:
    """A command line and the files beside it."""

    words: tuple[str, ...]
    files: dict[str, bytes]

    def packed(self) -> bytes:
        """It as one file that can be kept."""
        files = {name: content.decode("latin-1") for name, content in self.files.items()}
        return json.dumps({"words": self.words, "files": files}, indent=1).encode()


def unpacked(content: bytes) -> Asked:
    """What ``Asked.packed`` packed."""
    held = json.loads(content)
    files = {name: text.encode("latin-1") for name, text in held["files"].items()}
    return Asked(tuple(held["words"]), files)


def asked(chance: random.Random) -> Asked:
    """A command by chance: mostly a check of a job file, now and then a takeoff with options."""
    files = {"job.toml": _job(chance)}
    named = chance.choice((None, None, "p.csv", "p.xlsx", "p.toml"))
    if named:
        files[named] = _prices(named, chance)
        files["job.toml"] = (
            _without_prices(files["job.toml"]) + f'\n[order]\nprices = "{named}"\n'.encode()
        )
    if chance.random() < 0.7:
        return Asked(("job", "check", "job.toml"), files)
    options: list[str] = []
    for _ in range(chance.randint(0, 4)):
        section, _, about = chance.choice(SETTINGS)
        if about.option and section != "advice":
            options += [f"--{about.option}", _plain(chance.choice((*ODD, str(about.like))))]
    job = ("--job", "job.toml") if chance.random() < 0.4 else ("--wall-layer", "A-WALL")
    words = ("takeoff", str(DRAWING), "-o", "out", "--no-plan", *job, *options)
    return Asked(words, files)


def failure_of_asked(trial: Asked) -> Failure | None:
    """What goes wrong with a command, or None: an exit code or a line that no command ends with,
    a fault that nobody foresaw, or too long a time."""
    before = Path.cwd()
    with tempfile.TemporaryDirectory(prefix="fuzz-") as folder:
        for name, content in trial.files.items():
            (Path(folder) / name).write_bytes(content)
        os.chdir(folder)
        try:
            with at_most(2 * SECONDS):
                ended = CliRunner().invoke(main, list(trial.words))
        except BaseException as error:
            if isinstance(error, KeyboardInterrupt):
                raise
            return failure_from(error)
        finally:
            os.chdir(before)
    told = [line for line in ended.stderr.splitlines() if line.startswith("Error: ")]
    if "unexpected fault" in ended.stderr:
        place = ended.stderr.rpartition(") at ")[2].partition(";")[0]
        return Failure(f"unexpected fault {place}", ended.stderr)
    if ended.exception and not isinstance(ended.exception, SystemExit):
        return failure_from(ended.exception)
    if ended.exit_code not in (0, 1, 2) or (ended.exit_code == 2 and len(told) != 1):
        return Failure(f"ends with {ended.exit_code}", ended.output)
    if any(len(line) > 4 * LONGEST for line in told):
        return Failure("a line too long", ended.stderr)
    return None


def _job(chance: random.Random) -> bytes:
    """A job file of some settings, now and then damaged in its text."""
    lines = []
    by_section: dict[str, list[str]] = {}
    for section, name, about in chance.sample(SETTINGS, chance.randint(1, 6)):
        value = str(about.like) if chance.random() < 0.45 else chance.choice(ODD)
        by_section.setdefault(section, []).append(f"{name} = {value}")
    for section, own in by_section.items():
        lines += [f"[{section}]", *own]
    text = "\n".join(lines) + "\n"
    if chance.random() < 0.15:
        at = chance.randrange(len(text))
        text = (
            text[:at] + chance.choice(("\x00", "[", '"""', "]]", "\r", "=", "é")) + text[at + 1 :]
        )
    return text.encode()


def _without_prices(job: bytes) -> bytes:
    """The job without its section of the order, which the prices need."""
    parts = job.split(b"\n[")
    return b"\n[".join(p for p in parts if not p.lstrip(b"[").startswith(b"order]"))


def _prices(name: str, chance: random.Random) -> bytes:
    """A price file, whole or damaged."""
    text = chance.choice(PRICES)
    if name.endswith(".csv"):
        return _struck(text.encode(), chance)
    if name.endswith(".toml"):
        return _struck(f"[prices]\nflat_panel = {chance.choice(ODD)}\n".encode(), chance)
    book = openpyxl.Workbook()
    for row in text.splitlines():
        book.active.append(row.split(","))
    if chance.random() < 0.3:
        book.active[chance.choice(("XFD1", "A60000", "ZZ9", "D2"))] = chance.choice(
            (1, "x", "=1/0")
        )
    held = io.BytesIO()
    book.save(held)
    if chance.random() < 0.5:
        return _struck(held.getvalue(), chance)
    out = io.BytesIO()
    with zipfile.ZipFile(held) as old, zipfile.ZipFile(out, "w") as new:
        names = old.namelist()
        hit = chance.choice(names)
        for part in names:
            content = old.read(part)
            new.writestr(part, _struck(content, chance) if part == hit else content)
    return out.getvalue()


def _struck(content: bytes, chance: random.Random) -> bytes:
    changed = bytearray(content)
    for _ in range(chance.randint(0, 3)):
        at = chance.randrange(len(changed) + 1)
        changed[at : at + chance.randint(0, 6)] = bytes(chance.choices(b'<>&"=/\x00,;\n0nE', k=2))
    return bytes(changed)


def _plain(value: str) -> str:
    """A value of a file as it is typed behind an option."""
    return value.strip("[]").split(",")[0].strip(' "').replace("\x00", "")[:2_000] or "x"
