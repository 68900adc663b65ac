"""What can't be right in a file of site measures, and sizes that are as drawn."""

from __future__ import annotations

from dxf2veneer.basics.messages import Length, Message, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import SITE_AS_DRAWN_IN, SITE_SHEET_IN
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.site_file import Measure, MeasureAt, SiteSheet
from dxf2veneer.model import SiteMeasures, SiteSize, SizeWhat


def slip(sheet: SiteSheet, section: str, key: str, why: Message) -> SettingsError:
    """The error of a size that can't be used.

    Args:
        sheet: The file of site measures.
        section: The wall or opening.
        key: The size.
        why: What is wrong with it, and what to do.

    Returns:
        The error, with file and line.
    """
    return SettingsError(message("site-slip", place=sheet.place(section, key), why=why))


class Sizes:
    """The sizes of a sheet as they are held against the drawing, one after the other."""

    def __init__(self, sheet: SiteSheet) -> None:
        """None yet, of the sheet."""
        self.sheet = sheet
        self.differing: list[SiteSize] = []
        self.as_drawn = 0
        self.notices: list[Notice] = []

    def taken(
        self,
        owner: tuple[str, str],
        what: SizeWhat,
        key: str,
        given: Measure | MeasureAt | None,
        drawn: float,
    ) -> float | None:
        """What a size is more than the drawn one.

        Args:
            owner: Ids of the wall and of the opening; the latter is empty for the wall itself.
            what: What was measured.
            key: Its key in the sheet.
            given: What the sheet says; None where it says nothing.
            drawn: The drawn size, in inches.

        Returns:
            Inches, 0 where it is as drawn; None where it was not measured.

        Raises:
            SettingsError: It is too far from the drawn one to be right.
        """
        wall, opening = owner
        section = opening or wall
        if given is None:
            return None
        if given.drawn is not None and abs(given.drawn - drawn) > SITE_SHEET_IN:
            differs = message(
                "site-drawn-differs",
                place=self.sheet.place(section, key),
                what=what,
                owner=section,
                sheet=Length(given.drawn),
                drawn=Length(drawn),
            )
            self.notices.append(Notice("SITE_DRAWN_DIFFERS", differs))
        if given.measured is None:
            return None
        off = given.measured - drawn
        at = given.at if isinstance(given, MeasureAt) else None
        if abs(off) > self.sheet.settings.most_off:
            far = message(
                "site-far-off",
                what=what,
                owner=section,
                at=None if at is None else Length(at),
                measured=Length(given.measured),
                drawn=Length(drawn),
                most=Length(self.sheet.settings.most_off),
            )
            raise slip(self.sheet, section, key, far)
        if abs(off) <= SITE_AS_DRAWN_IN:
            self.as_drawn += 1
            return 0.0
        origin = self.sheet.file.origin(section, key)
        size = SiteSize(wall, opening, what, drawn, given.measured, origin, at)
        self.differing.append(size)
        return off


def site_notices(site: SiteMeasures, tolerance: float) -> list[Notice]:
    """What there is to say of sizes that replace drawn ones.

    Args:
        site: What was measured.
        tolerance: By how much edges may be off before that is worth a look, in inches.

    Returns:
        How many sizes count as measured, and those that are off by more than the tolerance.
    """
    counts = message(
        "site-measured",
        file=site.file,
        sizes=len(site.sizes),
        as_drawn=site.as_drawn,
        courses=len(site.laid),
    )
    beyond = [s for s in site.sizes if tolerance and abs(s.off) > tolerance + SITE_AS_DRAWN_IN]
    found = [Notice("SITE_MEASURED", counts)]
    for size in beyond:
        told = message(
            "site-beyond-tolerance",
            what=size.what,
            owner=size.opening or size.wall,
            at=None if size.at is None else Length(size.at),
            measured=Length(size.measured),
            drawn=Length(size.drawn),
            off=Length(abs(size.off)),
            is_more=size.off > 0.0,
            tolerance=Length(tolerance),
        )
        found.append(Notice("SITE_BEYOND_TOLERANCE", told))
    return found
