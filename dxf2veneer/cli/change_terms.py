"""What the options of a change order say."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TYPE_CHECKING

from dxf2veneer.basics.messages import message
from dxf2veneer.config.errors import SettingsError

if TYPE_CHECKING:
    from dxf2veneer.model import ChangeTerms

_MOST = Decimal(10) ** 9
_CENT = Decimal("0.01")
_ENDINGS = (".xlsx", ".pdf")


def terms_of(
    number: str, date: str, reason: str, contract: str | None, earlier: Sequence[str]
) -> ChangeTerms:
    """The terms of a change order.

    Args:
        number: Its number.
        date: Its date, as it is printed.
        reason: Why it is made.
        contract: The price before any change, as it was typed; None where it is not given.
        earlier: Earlier change orders, each ``NUMBER=AMOUNT``.

    Returns:
        The terms.

    Raises:
        SettingsError: An amount can't be read, or earlier changes are given without what they
            change.
    """
    from dxf2veneer.model import ChangeTerms, EarlierChange

    if earlier and contract is None:
        raise SettingsError(message("earlier-change-alone"))
    listed = []
    for text in earlier:
        name, sign, amount = text.rpartition("=")
        if not sign or not name.strip():
            raise SettingsError(message("earlier-change-unreadable", text=text))
        listed.append(EarlierChange(name.strip(), _amount("--earlier-change", amount)))
    price = None if contract is None else _amount("--contract-price", contract)
    return ChangeTerms(number, date, reason, price, tuple(listed))


def check_order_files(files: Sequence[Path]) -> None:
    """Refuse change orders of a kind that can't be made.

    Args:
        files: The files to write.

    Raises:
        SettingsError: An ending is unknown, or PDFs can't be made here.
    """
    option = "--change-order"
    for file in files:
        if file.suffix.lower() not in _ENDINGS:
            what = message("ending-unknown", option=option, file=str(file), endings=_ENDINGS)
            raise SettingsError(what)
    if any(file.suffix.lower() == ".pdf" for file in files):
        from dxf2veneer.writers.typeset import is_available

        if not is_available():
            raise SettingsError(message("pdf-not-available", option=option))


def _amount(option: str, text: str) -> Decimal:
    """Money to the cent. Raises SettingsError."""
    try:
        amount = Decimal(text.strip().replace(",", ""))
        if amount.is_finite() and abs(amount) < _MOST:
            return amount.quantize(_CENT)
    except InvalidOperation:
        pass
    raise SettingsError(message("amount-unreadable", option=option, text=text))
