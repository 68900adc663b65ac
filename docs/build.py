"""Writes the parts of the docs that the code itself knows.

    python docs/build.py            write them
    python docs/build.py --check    name the pages that are stale; exit code 1 where there are any

A page holds such a part between two lines, and nobody edits what lies between them:

    <!-- made by docs/build.py: NAME -->
    <!-- end -->
"""

from __future__ import annotations

import inspect
import re
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import NamedTuple

import click

from dxf2veneer.app.course_advice import advise
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.basics.notices import CATALOG
from dxf2veneer.cli import main as commands
from dxf2veneer.config import job, product
from dxf2veneer.config.deductions import DEDUCTION_RULES
from dxf2veneer.config.rules import RULES
from dxf2veneer.config.settings import described, toml
from dxf2veneer.model import Takeoff
from dxf2veneer.wording import meaning, remedy
from dxf2veneer.writers.advice.picture import advice_svg
from dxf2veneer.writers.advice.result import advice_schema
from dxf2veneer.writers.elevation import write_picture
from dxf2veneer.writers.result.schema import schema_text
from dxf2veneer.writers.revision import compare_schema

ROOT = Path(__file__).parent.parent

PART = re.compile(r"(<!-- made by docs/build\.py: ([a-z-]+) -->\n).*?(<!-- end -->)", re.DOTALL)


def table(head: Iterable[str], rows: Iterable[Iterable[str]]) -> Iterator[str]:
    """Lines of a Markdown table."""
    names = list(head)
    yield f"| {' | '.join(names)} |"
    yield "|" + "---|" * len(names)
    for row in rows:
        yield f"| {' | '.join(cell.replace('|', chr(92) + '|') for cell in row)} |"


# ------------------------------------------------------------------- parts


def notices() -> Iterator[str]:
    """Every notice with its level, what it means and what to do."""
    yield from table(
        ("code", "level", "what it means", "what to do"),
        (
            (f"`{code}`", level.value, meaning(code), remedy(code))
            for code, level in CATALOG.items()
        ),
    )


def laying_rules() -> Iterator[str]:
    """Every rule of laying: what it says, what sets it, where it comes from,
    what is done with it.
    """
    yield from table(
        ("rule", "name", "what it says", "set by", "origin", "what the tool does"),
        (
            (
                f"`{rule.id}`",
                rule.name,
                rule.says,
                ", ".join(f"`{key}`" for key in (*rule.product, *rule.job)) or "–",
                f"{rule.origin}; {rule.note}" if rule.note else str(rule.origin),
                str(rule.use),
            )
            for rule in RULES.values()
        ),
    )


def deduction_rules() -> Iterator[str]:
    """The published rules of deducting openings."""
    yield from table(
        ("rule", "trade", "threshold", "at the threshold", "source"),
        (
            (
                f"`{rule.key}`",
                rule.trade,
                "none" if rule.threshold_sqft == 0.0 else f"{rule.threshold_sqft:.4g} sq ft",
                "deducted" if rule.at_threshold else "not deducted",
                rule.source,
            )
            for rule in DEDUCTION_RULES.values()
        ),
    )


def published_checks() -> Iterator[str]:
    """Every number of a source that a test holds the program against."""
    sys.path.append(str(ROOT / "tests"))
    from published import checks

    listed = list(checks())
    stages = Counter(check.stage for check in listed).most_common()
    yield ""
    yield f"{len(listed)} checks: {', '.join(f'{number} {stage}' for stage, number in stages)}."
    for stage, _ in stages:
        yield from ("", f"## {stage.capitalize()}", "")
        yield from table(
            ("what", "published", "source", "how known", "test"),
            (
                (
                    mark.what,
                    "; ".join(f"{name} {figure(value)}" for name, value in mark.values.items()),
                    f"{mark.source}, {mark.place}" if mark.place else mark.source,
                    mark.known,
                    f"`{test}`",
                )
                for mark, test, where in listed
                if where == stage
            ),
        )


def figure(value: float | str) -> str:
    """A number as the table shows it: one that is printed as printed, an exact one whole."""
    return value if isinstance(value, str) else f"{value:,.10g}"


def job_settings() -> Iterator[str]:
    """The sections of a job file."""
    for section, owner in job.SECTIONS.items():
        yield from ("", f"### [{section}]", "", summary(owner), "")
        yield from table(
            ("key", "option", "default", "meaning"),
            (
                (
                    f"`{section}.{name}`",
                    f"`--{about.option}`" if about.option else "–",
                    default_text(default),
                    f"{about.help} [{about.basis}]" if about.basis else about.help,
                )
                for name, about, default in described(owner)
            ),
        )


def product_settings(sections: Mapping[str, type], lacking: str) -> Iterator[str]:
    """Sections of a product file; ``lacking`` says what stands in for a value left out."""
    for section, owner in sections.items():
        yield from ("", f"### [{section}]", "", summary(owner), "")
        yield from table(
            ("key", "default", "meaning"),
            (
                (
                    f"`{section}.{name}`",
                    lacking or ("required" if default is None else default_text(default)),
                    about.help,
                )
                for name, about, default in described(owner)
            ),
        )


def command_reference() -> Iterator[str]:
    """Every command with its arguments and options, as ``--help`` shows them."""
    for words, command in every_command(commands, ()):
        context = click.Context(command, info_name=" ".join(("dxf2veneer", *words)))
        usage = command.get_usage(context).removeprefix("Usage: ")
        yield from ("", f"## {' '.join(('dxf2veneer', *words))}", "", f"    {usage}", "")
        yield from inspect.cleandoc(command.help or "").split("\n")
        rows = [
            (f"`{'`, `'.join((*p.opts, *p.secondary_opts))}`", option_help(p))
            for p in command.params
            if isinstance(p, click.Option) and not p.hidden
        ]
        if rows:
            yield ""
            yield from table(("option", "meaning"), rows)


class Shown(NamedTuple):
    """How the docs show the first sample: the picture of its front, and settings of the plan."""

    picture: str
    changes: Mapping[str, object]


SHOWN = {
    "--aim panels": Shown("stonework-panels.svg", {"aim": "panels"}),
    'look = "free"': Shown(
        "stonework-free.svg", {"look": "free", "offcuts": "job", "tolerance": 0.0}
    ),
    "--aim look": Shown("stonework-look.svg", {"aim": "look"}),
    "--aim wall": Shown("stonework-wall.svg", {"aim": "wall"}),
    "--aim lengths": Shown("stonework-lengths.svg", {"aim": "lengths"}),
    "--aim balance, the default": Shown("gatehouse-front.svg", {}),
}
"""By the words of the setting, as it is typed or stands in the job file."""


@cache
def gatehouse(setting: str) -> Takeoff:
    """The first sample under a setting of its plan."""
    samples = ROOT / "samples"
    given = job.load_job(samples / "gatehouse.toml")
    changes = {f"plan__{key}": value for key, value in SHOWN[setting].changes.items()}
    return take_off([samples / "gatehouse.dxf"], job.with_settings(given, **changes))


def front(setting: str) -> str:
    """The picture of the first sample's front under a setting."""
    takeoff = gatehouse(setting)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "front.svg"
        write_picture(takeoff, takeoff.walls[0], path)
        return path.read_text(encoding="utf-8")


ADVISED = ("window=4", "cap=4")
"""What may move in the docs' example of advice."""


def advice_picture() -> str:
    """Advice on the first sample, as the docs show it."""
    samples = ROOT / "samples"
    given = job.load_job(samples / "gatehouse.toml", {"advice.may_move": ADVISED})
    return f"{advice_svg(advise([samples / 'gatehouse.dxf'], given))}\n"


def one_wall() -> Iterator[str]:
    """The first sample under each setting of its plan, with the picture of its front."""
    head = (
        "setting", "panels", "crosscuts", "joints in line", "courses repeated",
        "equal corner pieces", "offcuts farther than round a corner", "waiting at once", "lengths",
    )  # fmt: skip
    rows = []
    for setting, (picture, _) in SHOWN.items():
        plan = gatehouse(setting).plan
        assert plan is not None and plan.handling is not None and plan.look is not None
        found, look = plan.handling, plan.look
        rows.append((
            f"[{setting}]({picture})", plan.total, plan.cuts, f"{look.in_line_share:.1%}",
            look.repeats, f"{look.equal_turns_share:.1%}", found.far, found.waiting, found.lengths,
        ))  # fmt: skip
    yield from table(head, (map(str, row) for row in rows))
    for setting, (picture, _) in SHOWN.items():
        yield ""
        yield f"![The front with {setting}]({picture})"
        yield ""
        yield f"*{setting}*"


PARTS: dict[str, Callable[[], Iterator[str]]] = {
    "notices": notices,
    "deduction-rules": deduction_rules,
    "laying-rules": laying_rules,
    "job-settings": job_settings,
    "product-sizes": lambda: product_settings(product.SIZES, ""),
    "one-wall": one_wall,
    "product-goods": lambda: product_settings(
        {s: o for s, o in product.SECTIONS.items() if s not in product.SIZES}, "generic"
    ),
    "commands": command_reference,
    "published-checks": published_checks,
}


# ----------------------------------------------------------------- helpers


def summary(owner: type) -> str:
    """The first line of a class's docstring."""
    return (owner.__doc__ or "").strip().splitlines()[0]


def default_text(default: object) -> str:
    """A default as a settings file writes it."""
    return "–" if default is None else "none" if default == () else f"`{toml(default)}`"


def option_help(option: click.Option) -> str:
    """What an option does, in one line."""
    return " ".join((option.help or "").split())


def every_command(
    command: click.Command, words: tuple[str, ...]
) -> Iterator[tuple[tuple[str, ...], click.Command]]:
    """Every command that can be run, with the words that call it."""
    yield words, command
    if isinstance(command, click.Group):
        for name, part in command.commands.items():
            yield from every_command(part, (*words, name))


def renewed(text: str) -> str:
    """A page with its made parts made anew."""
    return PART.sub(
        lambda m: m[1] + "".join(f"{line.rstrip()}\n" for line in PARTS[m[2]]()) + m[3], text
    )


def pages() -> dict[Path, str]:
    """Every page or file that the code writes, whole, by its path."""
    made = {
        page: renewed(page.read_text(encoding="utf-8"))
        for page in sorted((ROOT / "docs").glob("*.md"))
    }
    return made | {
        ROOT / "docs" / "result.schema.json": schema_text(),
        ROOT / "docs" / "advice.schema.json": schema_text(advice_schema()),
        ROOT / "docs" / "compare.schema.json": schema_text(compare_schema()),
        ROOT / "docs" / "advice.svg": advice_picture(),
        **{ROOT / "docs" / shown.picture: front(setting) for setting, shown in SHOWN.items()},
    }


def main(arguments: list[str]) -> int:
    """Write the stale pages, or name them; the exit code."""
    stale = {
        p: text for p, text in pages().items() if not p.exists() or p.read_text("utf-8") != text
    }
    for page, text in stale.items():
        if "--check" in arguments:
            print(f"{page.relative_to(ROOT)} is stale; run: python docs/build.py")
        else:
            page.write_text(text, encoding="utf-8", newline="\n")
            print(f"wrote {page.relative_to(ROOT)}")
    return 1 if stale and "--check" in arguments else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
