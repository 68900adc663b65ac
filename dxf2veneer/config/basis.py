"""What a value rests on, from the weakest ground to the firmest.

Every default, every value of a product that ships with the tool and every rule has one; a value
that the user gives rests on him. Product files mark theirs in the comment behind a key::

    weight = 48          # invented for this tool: 16 lb a panel
    lap_level = 2        # published: IRC R703.2
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum


class BasisKind(StrEnum):
    """Kinds of ground, the weakest first."""

    INVENTED = "invented for demonstration"
    OWN = "our own default"
    MEMORY = "from memory, not checked against a source"
    COMMON = "common practice, no published source"
    PUBLISHED = "published"
    GIVEN = "given by you"

    @property
    def rank(self) -> int:
        """Its place among the kinds, 0 for the weakest."""
        return list(BasisKind).index(self)


@dataclass(frozen=True, slots=True)
class Basis:
    """What one value rests on."""

    kind: BasisKind
    note: str = ""
    """Of a published value the source and the place in it; of others what is to be added."""

    def __post_init__(self) -> None:
        """A published value without its source is a mistake of whoever wrote it."""
        if self.kind is BasisKind.PUBLISHED and not self.note:
            raise ValueError("a published value names its source")

    def __str__(self) -> str:
        """The kind, and behind it the note."""
        return f"{self.kind}: {self.note}" if self.note else str(self.kind)


INVENTED = Basis(BasisKind.INVENTED)
OWN = Basis(BasisKind.OWN)
COMMON = Basis(BasisKind.COMMON)
GIVEN = Basis(BasisKind.GIVEN)

_MARKS = (
    (BasisKind.INVENTED, r"invented(?: for (?:this tool|the demo|the sample))?"),
    (BasisKind.MEMORY, r"from memory(?:, not checked(?: against a source)?)?"),
    (BasisKind.OWN, r"our own default"),
    (BasisKind.COMMON, r"common practice(?:, no published source)?"),
    (BasisKind.PUBLISHED, r"published(?=:\s*\S)"),
)


def basis_of_comment(comment: str) -> Basis | None:
    """What a value rests on by the comment behind it.

    Args:
        comment: The comment, without its mark ``#``.

    Returns:
        The ground that its first words name, what follows as the note; None where they name none.
    """
    for kind, mark in _MARKS:
        found = re.match(rf"(?:{mark})(?:[:;,.]\s*|\s+|$)", comment, re.IGNORECASE)
        if found:
            return Basis(kind, comment[found.end() :].strip())
    return None
