"""From quantities and course plan to what is bought, delivered, paid and installed.

``order`` is the stage; ``load_prices`` reads a price file. Everything here is a pure function of
its arguments. The parts: ``panels``, ``strips``, ``stones`` and ``sheets`` count, each item in one
or two ways; ``lines`` adds allowances, packages, prices and weights; ``labour`` and ``bid`` do the
money.
"""

from dxf2veneer.order.prices import NO_PRICES, PriceItem, Prices, load_prices
from dxf2veneer.order.stage import order

__all__ = ["NO_PRICES", "PriceItem", "Prices", "load_prices", "order"]
