"""One column of the price: formulas over the inputs, from materials down to the total.

materials      sum of the order's costs
labor          sum of what work costs
lines          each as the inputs say: amount, rate, percent of kinds above, margin
least price, rounding
total
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.config.charges import KINDS
from dxf2veneer.writers.workbook.alternates import Priced
from dxf2veneer.writers.workbook.cells import PlacedTable, put
from dxf2veneer.writers.workbook.columns import MONEY, Formula
from dxf2veneer.writers.workbook.input_items import NAMES
from dxf2veneer.writers.workbook.labor import labour_sum
from dxf2veneer.writers.workbook.order import missing
from dxf2veneer.writers.workbook.rates import rate_key

_ALL = "all above"


@dataclass(frozen=True)
class PriceColumn:
    """A column of the price, and the table of the bid's lines on the sheet of inputs."""

    sheet: Worksheet
    letter: str
    row: int
    """The row of its heading; materials and labor follow."""
    charges: PlacedTable
    rates: PlacedTable
    """What rates go by."""

    @property
    def _first(self) -> int:
        """The row of the first line after labor."""
        return self.row + 3

    @property
    def _end(self) -> int:
        """The row after the last line: that of the least price."""
        return self._first + self.charges.last - self.charges.first + 1

    def write(self, priced: Priced) -> None:
        """Fill the column.

        Args:
            priced: Whose price it is.
        """
        none = f"{missing(priced.items)}>0"
        self._put(self.row + 1, f'IF({none},"",ROUND({priced.items.sum("cost")},2))')
        self._put(self.row + 2, labour_sum(priced.labour))
        for number in range(self._end - self._first):
            self._put(self._first + number, self._amount(number, priced))
        self._put(self._end, self._least())
        self._put(self._end + 1, self._rounding())
        total = self._sum_to(self._end + 1)
        self._put(self._end + 2, f'IF({self._unknown()},"no total",{total})')

    def _put(self, row: int, formula: str) -> None:
        cell: Any = self.sheet[f"{self.letter}{row}"]
        put(cell, Formula(formula), MONEY)

    def _inputs(self, key: str, last: int | None = None) -> str:
        """The inputs of all lines, or of those before the ``last``-th."""
        letter, first = self.charges.letters[key], self.charges.first
        end = self.charges.last if last is None else first + last - 1
        return f"'{self.charges.sheet}'!${letter}${first}:${letter}${end}"

    def _amounts(self, last: int | None = None) -> str:
        """The amounts of all lines, or of those before the ``last``-th."""
        end = self._end - 1 if last is None else self._first + last - 1
        return f"{self.letter}{self._first}:{self.letter}{end}"

    def _amount(self, number: int, priced: Priced) -> str:
        """Formula text: the amount of a line, from 0."""
        cells = {key: self.charges.cell(key, number) for key in self.charges.letters}
        value, how, below = cells["value"], cells["how"], cells["below"]
        base, lacking = self._base(number, cells["of"])
        by_share = f"{base}*{value}/(100-{cells['share']})"
        many = self._many(cells["per"], priced.number)
        rated = f'IF({many}="","",ROUND({many},6)*{value})'
        raw = (
            f'IF({how}="percent",{base}*{value}/100,IF({how}="margin",{by_share},'
            f'IF({how}="rate",{rated},{value})))'
        )
        least = f'IF({cells["least"]}="",{raw},MAX({cells["least"]},{raw}))'
        met = f'IF({below}="",TRUE,{base}<{below})'
        paid = f"IF({met},ROUND(ROUND({least},6),2),0)"
        needs = f'OR({how}="percent",{how}="margin",{below}<>"")'
        unknown = f'OR(AND({needs},{lacking}),AND({how}="rate",{many}=""))'
        return f'IF({value}="","",IF({unknown},"",{paid}))'

    def _base(self, number: int, of: str) -> tuple[str, str]:
        """Formula texts: what a line is taken of, and whether a part of that is not known.

        No kind's name is a part of another's, so that one in the list is found by its letters.
        Each kind has a term of its own: not every spreadsheet searches for a range of texts.
        """
        direct = {
            "materials": f"{self.letter}{self.row + 1}",
            "labour": f"{self.letter}{self.row + 2}",
        }
        sums, gaps = [], []
        for kind in KINDS if number else direct:
            part, gap = [], []
            if kind in direct:
                part, gap = [f"N({direct[kind]})"], [f'({direct[kind]}="")']
            if number:
                kinds, amounts = self._inputs("kind", number), self._amounts(number)
                given = f'({self._inputs("value", number)}<>"")'
                part.append(f'SUMIFS({amounts},{kinds},"{kind}")')
                gap.append(f'SUMPRODUCT(({kinds}="{kind}")*{given}*({amounts}=""))')
            here = f'ISNUMBER(SEARCH("{kind}",{of}))'
            sums.append(f"IF({here},{'+'.join(part)},0)")
            gaps.append(f"IF({here},{'+'.join(gap)},0)")
        running = f"SUM({self.letter}{self.row + 1}:{self.letter}{self._first + number - 1})"
        unknown = "+".join(f'({cell}="")' for cell in direct.values())
        if number:
            every = f'({self._inputs("value", number)}<>"")*({self._amounts(number)}="")'
            unknown += f"+SUMPRODUCT({every})"
        is_all = f'{of}="{_ALL}"'
        base = f"IF({is_all},{running},{'+'.join(sums)})"
        return base, f"IF({is_all},{unknown},{'+'.join(gaps)})>0"

    def _many(self, per: str, number: int) -> str:
        """Formula text: how many of what a rate goes by there are; empty where it is not known."""
        many, keys = self.rates.range(rate_key(number)), self.rates.range("per")
        return f'IFERROR(INDEX({many},MATCH({per},{keys},0)),"")'

    def _unknown(self) -> str:
        """Formula text: whether an amount is not known."""
        lines = f'SUMPRODUCT(({self._inputs("value")}<>"")*({self._amounts()}=""))'
        materials, work = (f"{self.letter}{self.row + down}" for down in (1, 2))
        return f'OR({materials}="",{work}="",{lines}>0)'

    def _least(self) -> str:
        """Formula text: what lifts the price to the least."""
        name, running = NAMES["minimum"], self._sum_to(self._end - 1)
        return f'IF(OR(N({name})=0,{self._unknown()}),"",ROUND(MAX(0,{name}-{running}),2))'

    def _rounding(self) -> str:
        """Formula text: what makes the price a multiple of its step."""
        step, up, running = NAMES["round_to"], NAMES["rounding"], self._sum_to(self._end)
        many = f"ROUND({running}/{step},6)"
        least = NAMES["minimum"]
        below = f"AND(N({least})>0,ROUND({many},0)*{step}<N({least}))"
        whole = f'IF(OR({up}="up",{below}),ROUNDUP({many},0),ROUND({many},0))'
        return f'IF(OR(N({step})=0,{self._unknown()}),"",ROUND({whole}*{step}-{running},2))'

    def _sum_to(self, row: int) -> str:
        """Formula text: the running total down to a row, to the cent."""
        return f"ROUND(SUM({self.letter}{self.row + 1}:{self.letter}{row}),2)"
