"""A few of the proposals that no other beats, each the best at something."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from dxf2veneer.coursing.advice.search import Found

Worth = Callable[[Found], tuple[object, ...]]


def better_ones(front: Sequence[Found], present: Found) -> list[Found]:
    """Those of the front that leave less than what stands: fewer slivers, or as many and fewer
    pieces to rip, or as many of both and less bare ground.

    Args:
        front: Starts with moves that no other beats.
        present: What stands.

    Returns:
        Those better than it, the fewest slivers first.
    """

    def rank(found: Found) -> tuple[float, ...]:
        return (*found.losses[:2], round(found.bare, 3))

    return sorted((f for f in front if rank(f) < rank(present)), key=_all)


def picked(better: Sequence[Found], most: int) -> list[Found]:
    """A few of them: the best at each of some things, then the least slivers and rips.

    Args:
        better: Proposals that no other beats.
        most: How many at most.

    Returns:
        The proposals, the fewest slivers first.
    """
    chosen: list[Found] = []
    for found in _by_merit(better):
        if len(chosen) < most and found not in chosen:
            chosen.append(found)
    return sorted(chosen, key=_all)


def _by_merit(better: Sequence[Found]) -> Iterator[Found]:
    """The best of each kind, then all."""
    if not better:
        return
    least = min(f.losses[0] for f in better)
    clean = [f for f in better if f.losses[0] == least]
    kinds: Sequence[tuple[Sequence[Found], Worth]] = (
        (better, _all),
        (clean, lambda f: (f.losses[3], f.losses[1:3], f.bare)),  # fewest changes
        ([f for f in better if f.losses[3] == 0], _all),  # the start alone
        (clean, lambda f: (round(f.bare, 3), f.losses)),  # least bare ground
        ([f for f in better if f.losses[2] == 0], _all),  # heads stay in line
        (better, lambda f: (f.losses[1], f.losses, f.bare)),  # fewest rips
    )
    for some, worth in kinds:
        if some:
            yield min(some, key=worth)
    yield from sorted(better, key=_all)


def _all(found: Found) -> tuple[object, ...]:
    """Slivers, rips, heads out of line, changes, bare ground, in this order."""
    return (*found.losses, round(found.bare, 3), found.start)
