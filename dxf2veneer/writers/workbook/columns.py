"""What a table is described by: its columns, the formulas in them, the units of display."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from dxf2veneer.basics.units import MM_PER_INCH, SQUARE_FEET_PER_SQUARE_METER, square_feet
from dxf2veneer.wording.measures import millimeters

COUNT = "0"
"""Number format of counts and ordinals."""
MONEY = "#,##0.00"
"""Number format of money, and of quantities beside it."""
QUANTITY = "#,##0.##"
"""Number format of what a package holds and of percentages."""
INPUT_NUMBER = "#,##0.####"
"""Number format of inputs that may be finer."""
READING = "@"
"""Number format of a text that stands right like the numbers, such as a length in words."""
_FEET_WIDE = 15
"""Width of a column of feet and inches, for 9999'-11 15/16" in bold: a text that is too wide is cut
off, and nothing shows it (ten digits, each up to a tenth wider in bold, and five signs of about 0.6
digits; the cell keeps 0.7 free)."""


@dataclass(frozen=True)
class Formula:
    """A formula of ours without its ``=``; ``{key}`` stands for the cell of that column in its
    row."""

    text: str

    def at(self, cells: Mapping[str, str]) -> str:
        """The formula with its cells filled in, as a cell stores it."""
        return "=" + self.text.format_map(cells)


class Strong(str):
    """A text that stands out, in bold."""

    __slots__ = ()


Value = str | float | int | Formula | None
"""What a cell may hold."""
Row = dict[str, Value]
"""A row of a table: values by the key of their column."""
CAUTIONS_SHOWN = 3
"""How many cautions a page to hand over shows; all of them stand on the sheet Assumptions."""


@dataclass(frozen=True)
class Column:
    """One column: its heading with the unit, number format, width and, where all rows share it, its
    formula.

    ``summed`` columns have a live sum in the total row; a column with ``reads`` shows in words the
    number of another one, in the total row too where that one is summed.
    """

    key: str
    title: str
    width: float = 11
    format: str = "General"
    formula: str | None = None
    summed: bool = False
    reads: str | None = None

    @property
    def side(self) -> str:
        """Where its heading and cells stand: text left, counts in the middle, measures right."""
        if self.format == "General" and self.formula is None:
            return "left"
        return "center" if self.format == COUNT else "right"


@dataclass(frozen=True)
class Display:
    """The units of what people read: ``imperial`` or ``metric``."""

    name: str

    @property
    def is_metric(self) -> bool:
        """Whether it shows meters."""
        return self.name == "metric"

    @property
    def area_unit(self) -> str:
        """Unit of areas."""
        return "m²" if self.is_metric else "sq ft"

    @property
    def run_unit(self) -> str:
        """Unit of runs."""
        return "m" if self.is_metric else "ft"

    @property
    def size_unit(self) -> str:
        """Unit of sizes and heights."""
        return "mm" if self.is_metric else "in"

    @property
    def reading_unit(self) -> str:
        """How a run reads beside its number."""
        return "mm" if self.is_metric else "ft-in"

    @property
    def run_format(self) -> str:
        """Number format of runs."""
        return "#,##0.000" if self.is_metric else "#,##0.00"

    def area(self, square_inches: float) -> float:
        """An area in the unit shown."""
        sqft = square_feet(square_inches)
        return sqft / SQUARE_FEET_PER_SQUARE_METER if self.is_metric else sqft

    def run(self, inches: float) -> float:
        """A run in the unit shown."""
        return inches * 0.0254 if self.is_metric else inches / 12.0

    def size(self, inches: float) -> float:
        """A size or height in the unit shown."""
        return inches * MM_PER_INCH if self.is_metric else inches

    @property
    def fraction_format(self) -> str:
        """Number format of lengths as a tape shows them: inches with a fraction, or whole
        millimeters."""
        return "#,##0" if self.is_metric else "# ??/??"

    def fraction(self, inches: float) -> float:
        """A length as a tape shows it: to 1/16 in, or to a whole millimeter."""
        return float(round(inches * MM_PER_INCH)) if self.is_metric else round(inches * 16) / 16

    def tape(self, inches: float) -> str:
        """A length as a tape shows it, in words: ``11 7/8 in`` or ``302 mm``."""
        if self.is_metric:
            return millimeters(inches)
        whole, part = divmod(round(abs(inches) * 16), 16)
        words = [str(whole)] if whole or not part else []
        words += [str(Fraction(part, 16))] if part else []
        return f"{'-' if inches < 0 else ''}{' '.join(words)} in"

    def reading(self, cell: str, *, per_inch: float = 1 / 12) -> str:
        """Formula text that reads a cell of runs (or, with ``per_inch=1``, of inches): feet and
        inches to 1/16, or whole millimeters."""
        if self.is_metric:
            return f"ROUND({cell}*1000,0)"
        parts = f"ROUND(ABS({cell})*{16 / per_inch:g},0)"
        return (
            f'IF(AND({cell}<0,{parts}>0),"-","")&IF({parts}>=192,INT({parts}/192)&"\'-","")'
            f'&TRIM(IF(OR({parts}>=16,{parts}=0),INT(MOD({parts},192)/16),"")'
            f'&IF(MOD({parts},16)=0,""," "&MOD({parts},16)/GCD({parts},16)'
            f'&"/"&16/GCD({parts},16)))&""""'
        )

    def areas(
        self, key: str, title: str, *, formula: str | None = None, summed: bool = True
    ) -> Column:
        """A column of areas."""
        return Column(key, f"{title}\n{self.area_unit}", 10, "#,##0.00", formula, summed)

    def runs(
        self, key: str, title: str, *, formula: str | None = None, summed: bool = True
    ) -> tuple[Column, ...]:
        """A column of runs and the one that reads it."""
        number = Column(key, f"{title}\n{self.run_unit}", 9.5, self.run_format, formula, summed)
        reading = self.reading("{" + key + "}")
        wide = 11 if self.is_metric else _FEET_WIDE
        return number, Column(
            f"{key}_reads",
            f"{title}\n{self.reading_unit}",
            wide,
            "#,##0",
            reading,
            summed,
            reads=key,
        )

    def sizes(self, key: str, title: str, *, formula: str | None = None) -> tuple[Column, ...]:
        """A column of sizes and, in inches, the one that reads it in feet and inches."""
        number = Column(
            key,
            f"{title}\n{self.size_unit}",
            11,
            "#,##0" if self.is_metric else "#,##0.00",
            formula,
        )
        if self.is_metric:
            return (number,)
        reading = self.reading("{" + key + "}", per_inch=1)
        return number, Column(
            f"{key}_reads", f"{title}\nft-in", _FEET_WIDE, "General", reading, reads=key
        )
