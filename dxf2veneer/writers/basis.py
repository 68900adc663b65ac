"""What the numbers rest on, in words: settings, product, prices and where they came from."""

from __future__ import annotations

from typing import Any, NamedTuple

from dxf2veneer.basics.messages import Message
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import Assumption
from dxf2veneer.textio.escaping import without_folder
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
    name = getattr(assumption, "name", assumption.key)
    return AssumptionWords(
        say(name, display),
        setting_value_text(assumption.value, display),
        _line(assumption_origin(assumption)),
        say(assumption.effect, display),
    )


def assumption_origin(assumption: Assumption) -> Message | str:
    """Where an assumption's value came from.

    Args:
        assumption: A setting or rule that changed a number.

    Returns:
        The place: a file and line, an option, or the default.
    """
    return _place(_either(assumption, "origin", "source"))


def setting_origin(job: Job, key: str) -> Message | str:
    """Where a setting's value came from.

    Args:
        job: The job.
        key: ``section.key`` of the setting.

    Returns:
        The place: a file and line, an option, or the default.
    """
    return _place(_origin_of(job, key))


def setting_origin_line(job: Job, key: str) -> str:
    """Where a setting's value came from, in words.

    Args:
        job: The job.
        key: ``section.key`` of the setting.

    Returns:
        A text such as ``job.toml, line 12``, ``option --scrap`` or ``default``; files without
        their folder, which differs from one machine to the next.
    """
    return _line(setting_origin(job, key))


def is_default(job: Job, key: str) -> bool:
    """Whether nobody gave a setting.

    Args:
        job: The job.
        key: ``section.key`` of the setting.

    Returns:
        True where its value is the tool's own default.
    """
    origin = _origin_of(job, key)
    return bool(getattr(origin, "kind", origin) == "default")


def product_file(product: Product) -> str:
    """The product file in words.

    Args:
        product: The product.

    Returns:
        Its name without its folder.
    """
    return _line(_place(_either(product, "origin", "file")))


def product_comments(product: Product) -> dict[str, str]:
    """What the product file says of where its values come from.

    Args:
        product: The product.

    Returns:
        The comment behind a value by ``section.key``.
    """
    return dict(_either(product, "comments", "origins"))


def _origin_of(job: Job, key: str) -> Any:
    return _either(job, "origin_of", "source_of")(key)


def _either(owner: Any, name: str, before: str) -> Any:
    return getattr(owner, name) if hasattr(owner, name) else getattr(owner, before)


def _place(origin: Any) -> Message | str:
    return origin if isinstance(origin, str) else origin.place()


def _line(place: Message | str) -> str:
    return without_folder(place) if isinstance(place, str) else say(place)
