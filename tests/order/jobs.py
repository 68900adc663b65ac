"""Takeoffs for the tests of the order: walls as values, by area unless asked for,
a product of any size.
"""

from __future__ import annotations

import dataclasses

from builders import JOB, PRODUCT

from dxf2veneer.app.laying import lay_out
from dxf2veneer.config.job import with_settings
from dxf2veneer.config.product import CornerPanel, Laying, Panel, Product
from dxf2veneer.model import Order
from dxf2veneer.order import NO_PRICES, Prices, order
from dxf2veneer.recognise import recognise


def product(*, length: float = 36.0, height: float = 8.0, **goods) -> Product:
    """The test panel in another size, and goods changed: ``product(flat_panel={"per_package":
    1.0})``.
    """
    sections = {
        name: dataclasses.replace(PRODUCT.goods.of(name), **values)
        for name, values in goods.items()
    }
    return dataclasses.replace(
        PRODUCT,
        panel=Panel(length, height),
        corner=CornerPanel(length),
        laying=Laying(min(8.0, length / 4), min(8.0, length / 4)),
        goods=dataclasses.replace(PRODUCT.goods, **sections),
    )


def ordered(
    *drawings,
    product: Product = PRODUCT,
    prices: Prices = NO_PRICES,
    panels: bool = False,
    **settings,
) -> Order:
    """The order of drawings; settings as ``order__scrap=0.0``."""
    job = with_settings(JOB, plan__panels=panels, **settings)
    found = recognise(drawings, job)
    laid = lay_out(found.walls, found.corners, job, product)
    return order(laid.walls, found.corners, laid.plan, job, product, prices)


def line(made: Order, key: str):
    """The one line of an item."""
    (found,) = [entry for entry in made.lines if entry.key == key]
    return found
