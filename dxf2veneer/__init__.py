"""dxf2veneer: from elevation drawings in DXF to a stone veneer takeoff.

    from dxf2veneer import load_job, take_off, write_workbook

    takeoff = take_off("front.dxf", load_job("job.toml"))
    write_workbook(takeoff, "front-takeoff.xlsx")

docs/python.md shows more. Names are loaded when they are first used, so that importing the package
costs nothing and changes nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dxf2veneer.app.public import (
        Area,
        DrawingError,
        Job,
        Length,
        Level,
        Message,
        Notice,
        OutputClashError,
        Product,
        SettingsError,
        Takeoff,
        TakeoffError,
        WriteError,
        describe,
        load_job,
        load_product,
        result,
        survey,
        take_off,
        write_overlay,
        write_report,
        write_result,
        write_workbook,
    )

from dxf2veneer.basics.version import __version__

__all__ = [
    "Area",
    "DrawingError",
    "Job",
    "Length",
    "Level",
    "Message",
    "Notice",
    "OutputClashError",
    "Product",
    "SettingsError",
    "Takeoff",
    "TakeoffError",
    "WriteError",
    "__version__",
    "describe",
    "load_job",
    "load_product",
    "result",
    "survey",
    "take_off",
    "write_overlay",
    "write_report",
    "write_result",
    "write_workbook",
]


def __getattr__(name: str) -> Any:
    """A public name, loaded when it is first used. Raises AttributeError."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from dxf2veneer.app import public

    value = globals()[name] = getattr(public, name)
    return value


def __dir__() -> list[str]:
    """The public names."""
    return __all__
