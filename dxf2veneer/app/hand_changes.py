"""Changes by hand in the workbook that a takeoff writes anew."""

from __future__ import annotations

import dataclasses
from pathlib import Path
from typing import TYPE_CHECKING

from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.basics.notices import Notice

if TYPE_CHECKING:
    from dxf2veneer.model import Takeoff


class ChangesError(TakeoffError):
    """The workbook whose changes are to be kept can't be read."""


def with_hand_changes(takeoff: Takeoff, workbook: Path) -> Takeoff:
    """The takeoff with the changes by hand that its workbook of before holds.

    Args:
        takeoff: The takeoff.
        workbook: Where its workbook stands and will stand.

    Returns:
        The takeoff, with a warning that no other output has the changes; as it was where no
        workbook stands there.

    Raises:
        ChangesError: The file is no workbook of this tool, or can't be read.
    """
    if not workbook.exists():
        return takeoff
    from dxf2veneer.writers.workbook import UnreadableWorkbookError, kept_changes

    try:
        changes = kept_changes(takeoff, workbook)
    except UnreadableWorkbookError as error:
        raise ChangesError(message("changes-not-read", file=str(workbook))) from error
    except OSError as error:
        why = error.strerror or str(error)
        raise ChangesError(message("workbook-not-opened", file=str(workbook), why=why)) from error
    kept = sum(change.fits for change in changes)
    if not kept:
        return dataclasses.replace(takeoff, hand_changes=changes)
    apart = Notice("HAND_CHANGES_APART", message("hand-changes-apart", changes=kept))
    errors = len(takeoff.errors)
    notices = (*takeoff.notices[:errors], apart, *takeoff.notices[errors:])
    return dataclasses.replace(takeoff, hand_changes=changes, notices=notices)
