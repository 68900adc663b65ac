"""What is wrong with settings."""

from __future__ import annotations

from dxf2veneer.basics.messages import TakeoffError


class SettingsError(TakeoffError):
    """A settings file, price file or option that can't be used."""
