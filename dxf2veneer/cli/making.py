"""What every command that makes a takeoff does: job and outputs checked, the takeoff made,
written."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dxf2veneer.app.batch.budget import Budget, Ended
from dxf2veneer.app.hand_changes import with_hand_changes
from dxf2veneer.app.outputs import Asked, Outputs, as_made, folders_of, outputs_of
from dxf2veneer.app.sparing import spare, spare_folders
from dxf2veneer.app.stages import Progress, watched
from dxf2veneer.app.writing import write_outputs
from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.cli.jobs import job_asked
from dxf2veneer.config.job import Job

if TYPE_CHECKING:
    from dxf2veneer.model import Takeoff


def prepared(asked: Asked) -> tuple[Job, Outputs]:
    """The job and the outputs of a takeoff, before a drawing is read.

    Args:
        asked: What the command was asked to read and write.

    Returns:
        The job, and the files to write; pictures come once walls are known.

    Raises:
        SettingsError: A setting is wrong.
        OutputClashError: An output can't be where it was asked for.
    """
    job = job_asked(asked)
    outputs = outputs_of(asked)
    spare_folders(asked)
    spare(outputs, asked, job)
    return job, outputs


def made(
    asked: Asked, progress: Progress, coursed: Callable[[Takeoff], None] = lambda _: None
) -> tuple[Takeoff, Outputs]:
    """A takeoff, made and written.

    Args:
        asked: What the command was asked to read and write.
        progress: Is given each step as it begins.
        coursed: Is given what is known once course lines are, see ``take_off``.

    Returns:
        The takeoff and its files.

    Raises:
        TakeoffError: A setting is wrong, a drawing can't be used, or an output not be written.
        GivenUpError: Nobody wants it any more.
    """
    from dxf2veneer.app.pipeline import take_off

    job, outputs = prepared(asked)
    documents: dict[Path, Any] = {}
    result = take_off(
        asked.drawings, job, progress=progress, keep=documents.__setitem__, coursed=coursed
    )
    _refuse_unknown_layers(result)
    if asked.keep_changes:
        result = with_hand_changes(result, outputs.workbook)
    outputs = as_made(outputs, result, asked.picture_folder)
    spare(outputs, asked, job)
    write_outputs(result, asked.drawings, outputs, documents=documents, progress=progress)
    return result, outputs


def made_within(asked: Asked, budget: Budget, progress: Progress) -> tuple[Takeoff, Outputs]:
    """A takeoff, made and written within a budget.

    Args:
        asked: What the command was asked to read and write.
        budget: What it may take; where that is bounded, it is made in a process of its own.
        progress: Is given each step as it begins.

    Returns:
        The takeoff and its files.

    Raises:
        TakeoffError: As ``made``, or the budget does not suffice; nothing was written then.
    """
    if not budget.is_bounded:
        return made(asked, progress)
    from dxf2veneer.app.batch.each import why_ended
    from dxf2veneer.app.batch.workers import pooled

    _, outputs = prepared(asked)
    bounded = replace(budget, folders=folders_of(asked, outputs))
    ((_, result),) = pooled(_attempt, [asked], 1, bounded, progress)
    if isinstance(result, Ended):
        raise TakeoffError(why_ended(result, asked.drawings, budget))
    if isinstance(result, TakeoffError):
        raise result
    return result


def _attempt(asked: Asked) -> tuple[Takeoff, Outputs] | TakeoffError:
    """A takeoff, made in this process; an error travels as a value."""
    try:
        return made(asked, watched())
    except TakeoffError as error:
        return error
    except MemoryError:
        return TakeoffError(message("memory-ran-out", file=", ".join(map(str, asked.drawings))))


def _refuse_unknown_layers(result: Takeoff) -> None:
    """A layer that was typed as an option and that no drawing has is a slip of the keys; a job file
    may serve drawings that lack one. Raises DrawingError."""
    from dxf2veneer.drawing import DrawingError
    from dxf2veneer.drawing.layers import layer_matches, nearest_layers

    names = [layer.name for drawing in result.drawings for layer in drawing.layers]
    for key, patterns in result.job.items().items():
        if not (key.startswith("layers.") and result.job.origin_of(key).kind == "option"):
            continue
        for pattern in patterns:
            if not any(layer_matches(name, (pattern,)) for name in names):
                raise DrawingError(
                    message(
                        "no-layer-typed",
                        files=tuple(d.file for d in result.drawings),
                        option=f"--{result.job.origin_of(key).option}",
                        pattern=pattern,
                        nearest=tuple(nearest_layers(pattern, names)),
                    )
                )
