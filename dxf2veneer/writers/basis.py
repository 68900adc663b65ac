"""What the numbers rest on, in words: settings, product, prices and where they came from."""

from __future__ import annotations

from typing import NamedTuple

from dxf2veneer.config.basis import BasisKind
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import Assumption, Order, Takeoff
from dxf2veneer.wording import say
from dxf2veneer.wording.setting_values import setting_value_text

CHECK_FIRST = "Check before you rely on it"
"""Over the list of values that nobody gave."""


class AssumptionWords(NamedTuple):
    """An assumption as people read it."""

    name: str
    value: str
    origin: str
    basis: str
    effect: str


def assumption_words(assumption: Assumption, display: str) -> AssumptionWords:
    """An assumption in words.

    Args:
        assumption: A setting or rule that changed a number.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        What it is called, its value, where that came from, what it rests on, what it does.
    """
    return AssumptionWords(
        say(assumption.name, display),
        setting_value_text(assumption.value, display),
        say(assumption.origin.place()),
        str(assumption.basis or ""),
        say(assumption.effect, display),
    )


def setting_origin_line(job: Job, key: str) -> str:
    """Where a setting's value came from, in words.

    Args:
        job: The job.
        key: ``section.key`` of the setting.

    Returns:
        A text such as ``job.toml, line 12``, ``option --scrap`` or ``default``; files without
        their folder, which differs from one machine to the next.
    """
    return say(job.origin_of(key).place())


def is_default(job: Job, key: str) -> bool:
    """Whether nobody gave a setting.

    Args:
        job: The job.
        key: ``section.key`` of the setting.

    Returns:
        True where its value is the tool's own default.
    """
    return job.origin_of(key).kind == "default"


def own_defaults(takeoff: Takeoff, order: Order) -> list[str]:
    """What the price rests on that nobody gave: our own starting points.

    Args:
        takeoff: The takeoff.
        order: Its order.

    Returns:
        The settings in words: allowances that the order uses, hours of work that it has.
    """
    job, display = takeoff.job, takeoff.job.output.display
    modes = {line.mode for line in order.lines if not line.by_others}
    found = []
    for mode, key in (("layout", "breakage"), ("area", "scrap")):
        if mode in modes and is_default(job, f"order.{key}"):
            found.append(key)
    hours = [
        say(work.what, display).lower()
        for work in order.labour
        if work.quantity and work.hours and is_default(job, f"labour.{work.key}")
    ]
    return [*found, *(["hours to " + ", ".join(hours)] if hours else [])]


def product_file(product: Product) -> str:
    """The product file in words.

    Args:
        product: The product.

    Returns:
        Its name without its folder.
    """
    return say(product.origin.place())


def by_invented(order: Order) -> str:
    """What stands behind a weight in which invented ones are.

    Args:
        order: The order.

    Returns:
        A text such as `` (in part invented)``; empty where every weight was given.
    """
    weighed = [line for line in order.lines if not line.by_others]
    invented = [line for line in weighed if "weight" in line.invented]
    if not invented:
        return ""
    return f" ({'' if len(invented) == len(weighed) else 'in part '}invented)"


def packing_told(order: Order) -> str:
    """Which items' packages and weights nobody gave.

    Args:
        order: The order.

    Returns:
        A sentence; empty where all were given.
    """
    invented = [line for line in order.lines if not line.by_others and line.invented]
    if not invented:
        return ""
    which = ", ".join(dict.fromkeys(line.item_key for line in invented))
    return f"Packages or weights of these are invented, nobody gave them: {which}."


class ToCheck(NamedTuple):
    """Values of one ground."""

    kind: BasisKind
    of: tuple[Assumption, ...]

    def values(self, display: str) -> str:
        """Each value with its name, in words."""
        told = (assumption_words(one, display) for one in self.of)
        return ", ".join(f"{one.name} {one.value}" for one in told)


def to_check(takeoff: Takeoff) -> list[ToCheck]:
    """What to check before the numbers are relied on: every value that nobody gave.

    Args:
        takeoff: The takeoff.

    Returns:
        The values by what they rest on, the weakest ground first.
    """
    found = [
        ToCheck(kind, tuple(a for a in takeoff.assumptions if a.basis and a.basis.kind is kind))
        for kind in BasisKind
        if kind is not BasisKind.GIVEN
    ]
    return [one for one in found if one.of]


def check_line(takeoff: Takeoff) -> str:
    """How many of the values behind the numbers nobody gave, in one line.

    Args:
        takeoff: The takeoff.

    Returns:
        Such as ``Check before you rely on it: 61 values invented for demonstration, ...``; empty
        where every one was given.
    """
    counts = ", ".join(f"{len(one.of)} {one.kind}" for one in to_check(takeoff))
    return f"{CHECK_FIRST}: of the values behind the numbers, {counts}" if counts else ""
