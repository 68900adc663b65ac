"""What a plan may be best at, in one word, and the single settings that the word stands for."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from dxf2veneer.basics.messages import message
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.origin import Origin
from dxf2veneer.config.settings import toml

if TYPE_CHECKING:
    from dxf2veneer.config.job import Job

_ANYWHERE: Mapping[str, Any] = {"plan.look": "off", "plan.offcuts": "job", "plan.tolerance": 0.0}
AIMS: Mapping[str, Mapping[str, Any]] = {
    "balance": {"plan.look": "quiet", "plan.offcuts": "near"},
    "panels": _ANYWHERE,
    "cuts": {**_ANYWHERE, "plan.cuts_per_panel": 1.0},
    "lengths": _ANYWHERE,
    "wall": {**_ANYWHERE, "plan.offcuts": "wall"},
    "look": {**_ANYWHERE, "plan.look": "quiet"},
}
"""The words of ``plan.aim``, and the settings that each stands for; ``balance`` is what a plan is
without a word, and leaves the room for edges that are off that the job says; what is best at one
thing leaves none. With ``cuts`` and ``lengths`` the search itself is another one too."""


class Replaced(NamedTuple):
    """A single setting of a job that its word stands in the place of."""

    key: str
    """``section.key``."""
    value: Any
    """Its value, checked."""
    origin: Origin
    """Where that came from."""


def without_aim(job: Job) -> Job:
    """A job without its word, and without what the word brought.

    Args:
        job: The job.

    Returns:
        The job with its own single settings, those that the word stood in the place of too; what it
        stood for and nobody gave is at its default.
    """
    if job.plan.aim is None:
        return job
    own, default = job.origin_of("plan.aim"), type(job.plan)()
    brought = [
        key
        for key in AIMS[job.plan.aim]
        if job.origin_of(key) == own or job.origin_of(key).kind == own.kind == "program"
    ]
    origins = {k: o for k, o in job.origins if k not in ("plan.aim", *brought)}
    values = {}
    for key in brought:
        name = key.partition(".")[2]
        stands = next((one for one in job.replaced if one.key == key), None)
        values[name] = getattr(default, name) if stands is None else stands.value
        if stands is not None:
            origins[key] = stands.origin
    plan = dataclasses.replace(job.plan, aim=None, **values)
    return dataclasses.replace(job, plan=plan, origins=tuple(origins.items()), replaced=())


def settle(values: dict[tuple[str, str], Any], origins: dict[str, Origin]) -> tuple[Replaced, ...]:
    """Give the settings that the word of a job stands for.

    A word that is an option wins over single settings of the job file, as options do.

    Args:
        values: Checked values by (section, key), which get those of the word.
        origins: By ``section.key`` where each came from; those of the word come from where it does.

    Returns:
        The single settings that the word stands in the place of.

    Raises:
        SettingsError: A single setting says otherwise than the word.
    """
    word = values.get(("plan", "aim"))
    if word is None:
        return ()
    own, replaced = origins["plan.aim"], []
    for key, wanted in AIMS[word].items():
        section, _, name = key.partition(".")
        given = values.get((section, name), wanted)
        if given != wanted and not (own.kind == "option" and origins[key].kind == "file"):
            raise SettingsError(
                message(
                    "aim-contradicted",
                    place=own.place(folders=True),
                    word=word,
                    key=key,
                    wanted=toml(wanted),
                    other=origins[key].place(folders=True),
                    given=toml(given),
                )
            )
        if (section, name) in values:
            replaced.append(Replaced(key, values[section, name], origins[key]))
        values[section, name], origins[key] = wanted, own
    return tuple(replaced)
