"""The goods of an order: what can be bought, and how a product file describes each.

``ITEMS`` lists every item by its key. The sections below stand in the product file beside the
panel's sizes: how the item is packed and the factors by which it is counted. Code holds no size of
its own; what a product file leaves out is that of the generic panel, and the order says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

from dxf2veneer.config.checks import as_length, as_number, as_text, as_whole
from dxf2veneer.config.settings import setting

ItemUnit = Literal["each", "ft", "sqft", "m", "m2"]
"""What an item is counted in; meters and square meters where goods are sold by them."""
METRIC: Mapping[ItemUnit, tuple[ItemUnit, float]] = {
    "each": ("each", 1.0),
    "ft": ("m", 0.3048),
    "sqft": ("m2", 0.3048**2),
}
"""The metric unit of goods, and how many of it make one of ours."""


class Item(NamedTuple):
    """One thing to buy: its key, what people call it, the unit it is counted in,
    its product section.
    """

    key: str
    title: str
    unit: ItemUnit
    section: str


ITEMS: Mapping[str, Item] = {
    i.key: i
    for i in (
        Item("flat_panel", "Flat panel", "each", "flat_panel"),
        Item("corner_panel", "Corner panel", "each", "corner_panel"),
        Item("starter_strip", "Starter strip", "each", "starter_strip"),
        Item("cap_stone", "Cap stone", "each", "cap_stone"),
        Item("trim_stone", "Trim stone", "each", "trim_stone"),
        Item("head_stone", "Trim stone, heads", "each", "trim_stone"),
        Item("jamb_stone", "Trim stone, jambs", "each", "trim_stone"),
        Item("sill_stone", "Trim stone, sills", "each", "trim_stone"),
        Item("fixture_block", "Fixture block", "each", "fixture_block"),
        Item("panel_fastener", "Panel fastener", "each", "panel_fastener"),
        Item("starter_fastener", "Starter fastener", "each", "starter_fastener"),
        Item("cap_fastener", "Cap fastener", "each", "cap_fastener"),
        Item("wrb", "Water-resistive barrier", "sqft", "wrb"),
        Item("lath", "Lath behind partial panels", "sqft", "lath"),
        Item("flashing", "Flashing behind partial panels", "sqft", "flashing"),
        Item("adhesive", "Adhesive", "ft", "adhesive"),
        Item("caulk", "Caulk", "ft", "caulk"),
    )
}
"""Every item, in the order of the list. Adhesive and caulk are counted in feet of bead; trim stones
of heads, jambs and sills are one item but where a job or a price file tells them apart."""


@dataclass(frozen=True)
class Goods:
    """How an item is packed."""

    package: str = setting(None, "what it is sold in", as_text, '"box"')
    per_package: float = setting(
        None,
        "how much a package holds: pieces, square feet or feet of bead",
        as_number(1e-6, 1e6),
        "3",
    )
    weight: float = setting(None, "weight of a full package in pounds", as_number(0.0, 1e5), "48")
    per_pallet: int = setting(
        None, "packages on a pallet; 0 where it comes on none", as_whole(100_000), "36"
    )


Packing = Literal["per_package", "weight", "per_pallet"]
PACKING: tuple[Packing, ...] = ("per_package", "weight", "per_pallet")
"""What a section of goods says in numbers of how an item is packed."""


@dataclass(frozen=True)
class FlatPanel(Goods):
    """How flat panels are packed."""


@dataclass(frozen=True)
class CornerPanels(Goods):
    """How corner panels are packed."""


@dataclass(frozen=True)
class StarterStrip(Goods):
    """Starter strip, cut from pieces of one length."""

    length: float = setting(None, "length of a piece", as_length(24.0, 480.0), "120")
    lap: float = setting(
        None, "how far a piece runs over the next in a run", as_length(0.0, 12.0), "0"
    )


@dataclass(frozen=True)
class CapStone(Goods):
    """Cap stones, cut from pieces of one length."""

    length: float = setting(None, "length of a stone", as_length(1.0, 240.0), "24")
    joint: float = setting(
        None, "width of the joint between two stones", as_length(0.0, 2.0), "0.25"
    )


@dataclass(frozen=True)
class TrimStone(Goods):
    """Trim stones of heads, jambs and sills, cut from pieces of one length."""

    length: float = setting(None, "length of a stone", as_length(1.0, 240.0), "24")
    height: float = setting(
        None, "face height of the stone that may be ripped into two", as_length(1.0, 48.0), "8"
    )
    joint: float = setting(
        None, "width of the joint between two stones", as_length(0.0, 2.0), "0.25"
    )


@dataclass(frozen=True)
class FixtureBlock(Goods):
    """Blocks that lights, receptacles and the like sit in; one for each fixture outline."""


@dataclass(frozen=True)
class PanelFastener(Goods):
    """Fasteners of panels and corner pieces."""

    long_from: float = setting(
        None, "a piece this long or longer takes the greater number", as_length(0.0, 240.0), "18"
    )
    long: float = setting(None, "fasteners in such a piece", as_number(0.0, 100.0), "4")
    short: float = setting(None, "fasteners in a shorter piece", as_number(0.0, 100.0), "2")
    studs: float = setting(
        None,
        "how many fasteners of a piece go into framing, each into another stud",
        as_number(0.0, 100.0),
        "2",
    )
    edge: float = setting(
        None, "least distance of a fastener from the end of its piece", as_length(0.0, 12.0), "1"
    )


@dataclass(frozen=True)
class StarterFastener(Goods):
    """Fasteners of the starter strip."""

    spacing: float = setting(
        None, "greatest distance between two fasteners", as_length(1.0, 48.0), "8"
    )


@dataclass(frozen=True)
class CapFastener(Goods):
    """Fasteners of caps."""

    per_cap: float = setting(None, "fasteners in a stone", as_number(0.0, 100.0), "4")


@dataclass(frozen=True)
class Barrier(Goods):
    """The water-resistive barrier, in rolls."""

    width: float = setting(None, "width of a roll", as_length(25.0, 240.0), "36")
    layers: float = setting(None, "how many layers", as_number(1.0, 4.0), "1")
    lap_level: float = setting(
        None, "lap of an upper strip over the lower one", as_length(0.0, 24.0), "2"
    )
    lap_upright: float = setting(None, "lap at the ends of a roll", as_length(0.0, 24.0), "6")
    lap_corner: float = setting(
        None, "overlap at inside and outside corners", as_length(0.0, 48.0), "16"
    )


@dataclass(frozen=True)
class Backing(Goods):
    """What glued panels and blocks are stuck to."""

    margin: float = setting(
        None, "how much higher than the strip it is cut", as_length(0.0, 48.0), "4"
    )


@dataclass(frozen=True)
class Lath(Backing):
    """Galvanised expanded metal lath behind glued panels and blocks."""


@dataclass(frozen=True)
class Flashing(Backing):
    """Unpainted flashing behind glued panels and blocks."""


@dataclass(frozen=True)
class Adhesive(Goods):
    """Adhesive of glued panels and blocks, in upright beads."""

    spacing: float = setting(None, "greatest distance between two beads", as_length(1.0, 48.0), "8")


@dataclass(frozen=True)
class Caulk(Goods):
    """Caulk in the joints against openings and other materials."""


SECTIONS: Mapping[str, type] = {
    "flat_panel": FlatPanel,
    "corner_panel": CornerPanels,
    "starter_strip": StarterStrip,
    "cap_stone": CapStone,
    "trim_stone": TrimStone,
    "fixture_block": FixtureBlock,
    "panel_fastener": PanelFastener,
    "starter_fastener": StarterFastener,
    "cap_fastener": CapFastener,
    "wrb": Barrier,
    "lath": Lath,
    "flashing": Flashing,
    "adhesive": Adhesive,
    "caulk": Caulk,
}
"""The sections of a product file that this module describes."""


@dataclass(frozen=True)
class AllGoods:
    """Every goods section of a product."""

    flat_panel: FlatPanel
    corner_panel: CornerPanels
    starter_strip: StarterStrip
    cap_stone: CapStone
    trim_stone: TrimStone
    fixture_block: FixtureBlock
    panel_fastener: PanelFastener
    starter_fastener: StarterFastener
    cap_fastener: CapFastener
    wrb: Barrier
    lath: Lath
    flashing: Flashing
    adhesive: Adhesive
    caulk: Caulk

    def of(self, section: str) -> Goods:
        """One section by its name."""
        found: Goods = getattr(self, section)
        return found
