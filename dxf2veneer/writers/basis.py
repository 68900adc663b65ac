"""What the numbers rest on, in words: settings, product, prices and where they came from."""

from __future__ import annotations

from typing import NamedTuple

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import Assumption, Order, Takeoff
from dxf2veneer.wording import say
from dxf2veneer.wording.setting_values import setting_value_text


class AssumptionWords(NamedTuple):
    """An assumption as people read it."""

    name: str
    value: str
    origin: str
    effect: str


def assumption_words(assumption: Assumption, display: str) -> AssumptionWords:
    """An assumption in words.

    Args:
        assumption: A setting or rule that changed a number.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        What it is called, its value, where that came from, what it does.
    """
    return AssumptionWords(
        say(assumption.name, display),
        setting_value_text(assumption.value, display),
        say(assumption.origin.place()),
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
        A text such as ``, in part by invented weights``; empty where every weight was given.
    """
    weighed = [line for line in order.lines if not line.by_others]
    invented = [line for line in weighed if "weight" in line.invented]
    if not invented:
        return ""
    return f", {'' if len(invented) == len(weighed) else 'in part '}by invented weights"
