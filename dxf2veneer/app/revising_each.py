"""The drawings of one folder compared with those of another, each a job of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from dxf2veneer.app.revising import Compared, Version, files_in
from dxf2veneer.basics.messages import Message, TakeoffError, message
from dxf2veneer.basics.tolerances import REVISION_LAYER_SHARE
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Job
from dxf2veneer.drawing import load_drawing
from dxf2veneer.revisions.assignment import best_pairs
from dxf2veneer.revisions.layers import marks_by_layer
from dxf2veneer.revisions.placing import Places, placing


@dataclass(frozen=True)
class Pair:
    """A drawing before and now; one of them None where it was added or is gone."""

    old: Path | None
    new: Path | None

    @property
    def name(self) -> str:
        """What to call it."""
        names = [path.name for path in (self.old, self.new) if path]
        return names[0] if len(set(names)) == 1 else " -> ".join(names)


@dataclass(frozen=True)
class Outcome:
    """What came of one pair."""

    pair: Pair
    compared: Compared | None = None
    """None where one of the two is missing or can't be used."""
    problem: Message | None = None
    """Why it can't be used."""


def pairs_of(old: Path, new: Path, job: Job) -> list[Pair]:
    """The drawings, or results, of two folders by name; those of other names by what is drawn.

    Args:
        old: A folder.
        new: Another.
        job: How drawings are read.

    Returns:
        Each file once: by the names of the new ones, then those that are gone.

    Raises:
        SettingsError: One of them is no folder, or holds neither drawings nor results.
    """
    here, there = ({path.stem.lower(): path for path in _files(one)} for one in (old, new))
    old_of = {name: here[name] for name in there if name in here}
    left_here = [path for name, path in here.items() if name not in there]
    left_there = [path for name, path in there.items() if name not in here]
    for a, b in _alike(left_here, left_there, job):
        old_of[b.stem.lower()] = a
    gone = [path for path in left_here if path not in old_of.values()]
    found = [Pair(old_of.get(name), path) for name, path in there.items()]
    return [*found, *(Pair(path, None) for path in gone)]


def _files(folder: Path) -> tuple[Path, ...]:
    if not folder.is_dir():
        raise SettingsError(message("compare-no-folder", file=str(folder)))
    found = files_in(folder, ".dxf") or files_in(folder, ".json")
    if not found:
        raise SettingsError(message("compare-nothing-there", folder=str(folder)))
    return found


def _alike(old: Sequence[Path], new: Sequence[Path], job: Job) -> list[tuple[Path, Path]]:
    """Drawings of other names that show the same."""
    here, there = (
        [(path, places) for path in paths if (places := _places(path, job))] for paths in (old, new)
    )
    worth = np.array([[placing(a, b).share for _, b in there] for _, a in here])
    if not worth.size:
        return []
    sure = np.where(worth >= REVISION_LAYER_SHARE, worth, 0.0)
    return [(here[row][0], there[column][0]) for row, column in best_pairs(sure)]


def _places(path: Path, job: Job) -> Places | None:
    """What lies in a drawing; None for a result and for what can't be read."""
    if path.suffix.lower() != ".dxf":
        return None
    try:
        marks = marks_by_layer([load_drawing(path, job, 0)])
    except TakeoffError:
        return None
    return Places(marked for found in marks.values() for marked in found)


def compared_each(
    pairs: Sequence[Pair], compare: Callable[[Version, Version], Compared]
) -> Iterator[Outcome]:
    """What came of each pair, one after the other.

    Args:
        pairs: The drawings.
        compare: Compares two of them.

    Returns:
        An outcome for each; what can't be used is told and costs the others nothing.
    """
    for pair in pairs:
        if pair.old is None or pair.new is None:
            yield Outcome(pair)
            continue
        try:
            yield Outcome(pair, compare(_version(pair.old), _version(pair.new)))
        except TakeoffError as error:
            yield Outcome(pair, problem=error.message)


def _version(path: Path) -> Version:
    is_result = path.suffix.lower() == ".json"
    return Version(path.name, () if is_result else (path,), path if is_result else None)
