"""The docs say what the code does: every notice, setting, command and option, and none besides."""

from __future__ import annotations

import re
import shlex
import sys

import pytest
from click.testing import CliRunner
from conftest import ROOT

from dxf2veneer.cli import main

sys.path.insert(0, str(ROOT / "docs"))
import build


def test_what_the_code_writes_into_the_docs_is_fresh():
    stale = [p.name for p, text in build.pages().items() if p.read_text("utf-8") != text]
    assert stale == [], "run: python docs/build.py"


def test_a_stale_part_is_found():
    page = (ROOT / "docs" / "notices.md").read_text("utf-8")
    changed = page.replace("| `NO_WALL` | warning |", "| `NO_WALL` | info |")
    assert changed != page
    assert build.renewed(changed) == page


def commands(group=main, words=()):
    """Every command of the command line, as its words and the command."""
    for name, command in group.commands.items():
        if hasattr(command, "commands"):
            yield from commands(command, (*words, name))
        else:
            yield (*words, name), command


COMMANDS = dict(commands())


def readme_calls():
    """Every call of the program in the README's code, as words."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    code = "\n".join(re.findall(r"```\w*\n(.*?)```", text, re.DOTALL))
    names = "|".join(main.commands)
    calls = re.findall(rf"(?:\.venv/bin/)?dxf2veneer ((?:{names})\b[^\n&#]*)", code)
    return [shlex.split(call) for call in calls]


def test_every_command_is_in_the_readme():
    called = {
        tuple(call[:2]) if tuple(call[:2]) in COMMANDS else tuple(call[:1])
        for call in readme_calls()
    }
    assert called == set(COMMANDS)


@pytest.mark.parametrize("call", readme_calls(), ids=" ".join)
def test_calls_in_the_readme_name_real_commands_and_options(call):
    words = tuple(call[:2]) if tuple(call[:2]) in COMMANDS else tuple(call[:1])
    known = {
        name for option in COMMANDS[words].params for name in (*option.opts, *option.secondary_opts)
    }
    assert {w for w in call if w.startswith("-")} <= known


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
def test_every_command_explains_itself(words):
    told = CliRunner().invoke(main, [*words, "--help"])
    assert told.exit_code == 0
    assert COMMANDS[words].help.splitlines()[0] in " ".join(told.output.split())


def fences(info):
    return re.findall(
        rf"```{info}\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL
    )


def test_the_readme_has_exactly_two_commands_to_copy():
    main_job, tests = fences("bash")
    assert "dxf2veneer takeoff samples/" in main_job
    assert "pytest" in tests
    assert main_job.count("\n") == tests.count("\n") == 1


def test_links_in_the_docs_lead_somewhere():
    pages = [
        ROOT / "README.md",
        ROOT / "DEVELOPERS.md",
        ROOT / "samples" / "README.md",
        *(ROOT / "docs").glob("*.md"),
    ]
    for page in pages:
        for target in re.findall(r"\]\(([^)#:]+)\)", page.read_text(encoding="utf-8")):
            assert (page.parent / target).exists(), f"{page.name} links to {target}"


def test_every_promise_names_tests_that_exist():
    rows_of_promises = [
        line
        for line in (ROOT / "docs" / "safety.md").read_text(encoding="utf-8").splitlines()
        if line.startswith("| ") and "| promise" not in line
    ]
    for row in rows_of_promises:
        named = re.findall(r"`(tests/[^`]+)`", row.split(" | ")[1])
        assert named, f"nothing holds this: {row}"
        for name in named:
            path, _, function = name.partition("::")
            assert (
                f"def {function}(" in (ROOT / path).read_text(encoding="utf-8")
                if function
                else (ROOT / path).is_file()
            ), name
