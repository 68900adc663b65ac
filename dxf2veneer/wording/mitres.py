"""How the two sides of bay corners lie in their panels, in words and figures."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping

from dxf2veneer.model import CourseNumbers, Mitres, MitreState, PieceRef

_STATES: dict[MitreState, str] = {
    "forced": "forced apart: no layout of the bay has fewer apart",
    "broken": "broken apart: in two panels, or with stone between them",
}


def mitre_rows(found: Mitres, numbers: CourseNumbers) -> Iterator[tuple[str, str, str]]:
    """The figures of mitered pairs, for a table.

    Args:
        found: The pairs.
        numbers: Numbers of courses.

    Yields:
        What is counted, the figure, and where.
    """
    whole = len(found.pairs)
    yield "Mitered pairs side by side in one panel (kept)", f"{found.count('kept')} of {whole}", ""
    for state, what in _STATES.items():
        if found.count(state):
            yield f"Pairs {what}", f"{found.count(state)}", _places(found, state, numbers)


def mitre_line(found: Mitres) -> str:
    """How mitered pairs lie in their panels, in one line.

    Args:
        found: The pairs.

    Returns:
        A sentence without its full stop.
    """
    kept, forced, broken = (found.count(state) for state in ("kept", "forced", "broken"))
    counts = ((forced, "forced apart"), (broken, "broken apart"))
    apart = "".join(f", {number} {what}" for number, what in counts if number)
    where = ": see sheet Panels" if apart else ""
    return (
        f"Miters: {kept} of {len(found.pairs)} pairs lie side by side in one panel, so that the "
        f"stone's pattern runs round the corner{apart}{where}"
    )


def beside_words(found: Mitres | None, numbers: CourseNumbers) -> Mapping[PieceRef, str]:
    """What to say of pieces that lie beside another one in their panel, parted by a miter.

    Args:
        found: The pairs; None without a plan.
        numbers: Numbers of courses.

    Returns:
        A phrase by piece; none for other pieces.
    """
    return {
        piece: f"one mitered cut parts it from {told}"
        for piece, others in (found.beside() if found else {}).items()
        for told in [" and from ".join(piece_text(one, numbers) for one in others)]
    }


def piece_text(ref: PieceRef, numbers: CourseNumbers) -> str:
    """A piece as a person finds it.

    Args:
        ref: The piece.
        numbers: Numbers of courses.

    Returns:
        A text such as ``W1 course 1 piece 3``.
    """
    return f"{ref.wall} course {numbers(ref.wall, ref.course)} piece {ref.number}"


def _places(found: Mitres, state: MitreState, numbers: CourseNumbers) -> str:
    """The pairs of a state by corner: the courses of the wall that begins there."""
    courses: dict[str, list[str]] = defaultdict(list)
    for pair in found.pairs:
        if pair.state == state:
            courses[f"{pair.corner}, {pair.right.wall}"].append(
                str(numbers(pair.right.wall, pair.right.course))
            )
    return "; ".join(
        f"{where} course{'' if len(own) == 1 else 's'} {', '.join(own)}"
        for where, own in courses.items()
    )
