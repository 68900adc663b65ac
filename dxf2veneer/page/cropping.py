"""A view cropped to a box: nothing outside of it is read, by the page and by the command alike."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence

from shapely.geometry import Polygon, box

from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.config.job_values import Window
from dxf2veneer.page.marks import Marks
from dxf2veneer.page.shaping import without_strays
from dxf2veneer.propose.scene import Box


class CropError(TakeoffError):
    """The box crops nothing."""


def cropped(marks: Marks, crop: Box, views: Sequence[Box]) -> Marks:
    """The marks with a view cropped to a box.

    The view that has most in common with the box is read in the box alone, the others as before.
    Marks of that view whose middle lies outside of the box are taken out.

    Args:
        marks: The marks before.
        crop: The box, from its least to its greatest corner.
        views: Boxes of the views that count where no window has been given yet.

    Returns:
        The marks after.

    Raises:
        CropError: The box has no width or height.
    """
    new = box(*crop)
    if not new.area:
        raise CropError(message("page-outline-encloses-nothing"))
    before = marks.windows or tuple(Window("", view) for view in views)
    shares = [box(*w.box).intersection(new).area for w in before]
    place = max(range(len(before)), key=shares.__getitem__) if any(shares) else None
    if place is None:
        return dataclasses.replace(marks, windows=(*before, Window("", crop)))
    windows = list(before)
    windows[place] = Window(before[place].name, crop)
    areas = [box(*w.box) for w in windows]
    old = box(*before[place].box)

    def stays(area: Polygon) -> bool:
        middle = area.representative_point()
        return not old.covers(middle) or any(a.covers(middle) for a in areas)

    kept = tuple(m for m in marks.marks if stays(m.polygon))
    after = dataclasses.replace(marks, marks=kept, windows=tuple(windows))
    return without_strays(marks, after)


def uncropped(marks: Marks) -> Marks:
    """The marks with the whole drawing read again.

    Args:
        marks: The marks before.

    Returns:
        The marks after; what a crop took out comes back by undoing it.
    """
    return dataclasses.replace(marks, windows=())


def line_of_window(window: Window) -> str:
    """A window as the text that stands for it in a job file.

    Args:
        window: The window.

    Returns:
        ``X0,Y0,X1,Y1`` or ``NAME=X0,Y0,X1,Y1``.
    """
    corners = ",".join(f"{v:.12g}" for v in window.box)
    return f"{window.name}={corners}" if window.name else corners
