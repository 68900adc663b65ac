"""What is said with every result, and what each reader of a sheet must know: the one home of these
texts.

Sources: 29 CFR 1926.1153 Table 1 (saws read in copies, grinders second-hand) and 1926.300(b) (read
in a copy); 1926.501, 1926.451 and NIOSH 94-110 (the lifting equation) second-hand; 1926.101,
1926.102 and 1910.1200 from memory, not checked against a source.
"""

from __future__ import annotations

from enum import StrEnum

CAUTION = (
    "An aid to bidding, not a design: local codes, the maker's instructions and a licensed "
    "professional decide."
)
"""One line, on the terminal and in the report."""

UNCONFIRMED = "proposed, not confirmed"
"""On top of everything that comes of a proposal which no person has confirmed."""


BRIEF = (
    "Cutting makes silica dust (29 CFR 1926.1153, Table 1); panels are heavy to lift.",
    "Work at height: 29 CFR 1926.501, on scaffolds 1926.451.",
    "Glue by its safety data sheet.",
)
"""In short lines, where there is no room for more."""


class Reader(StrEnum):
    """Who gets a sheet."""

    SAW = "saw operator"
    CARRIER = "carrier"
    INSTALLER = "installer"
    DESIGNER = "designer"
    BUYER = "buyer"


CAUTIONS: dict[Reader, str] = {
    Reader.SAW: (
        "At the saw: the dust holds respirable silica. 29 CFR 1926.1153, Table 1: water fed to the "
        "blade of a stationary masonry saw; of a handheld power saw too, with a respirator of APF "
        "10 outdoors beyond 4 hours a shift, indoors always. Guarded blade (1926.300), eyes "
        "(1926.102), hearing (1926.101); the saw maker's instructions first."
    ),
    Reader.CARRIER: (
        "Carrying: know what box and panel weigh before you lift; the NIOSH lifting equation "
        "allows 51 lb (23 kg) at best, less for far, low or frequent lifts."
    ),
    Reader.INSTALLER: (
        "On the wall: fall protection from 6 ft (1.8 m; 29 CFR 1926.501), on scaffolds above 10 ft "
        "(3.1 m; 1926.451); silica dust where stone is cut or ground (1926.1153); glue by its "
        "safety data sheet (29 CFR 1910.1200)."
    ),
    Reader.DESIGNER: (
        "For the designer: load, substrate, fastening, flashing and water management are for the "
        "local code, the panel maker's printed instructions and a registered design professional; "
        "nothing here proves any of them."
    ),
    Reader.BUYER: (
        "Before you buy: an aid to bidding. Check quantities against the drawing, and packages and "
        "weights against the maker's sheet."
    ),
}
"""What each reader must know, short, with its source."""


def caution_for(*readers: Reader) -> str:
    """What the readers of a sheet must know.

    Args:
        *readers: Who gets it.

    Returns:
        One line of sentences.
    """
    return " ".join(CAUTIONS[reader] for reader in readers)
