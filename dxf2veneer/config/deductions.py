"""Published rules of deducting openings: which come off the area, by trade.

Books and standards differ, so a job names the rule that its office goes by, or a threshold of its
own.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.units import SQUARE_FEET_PER_SQUARE_METER
from dxf2veneer.config.basis import Basis, BasisKind
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.origin import Origin


class DeductionRule(NamedTuple):
    """One published rule."""

    key: str
    trade: str
    """The work that it is written for."""
    threshold_sqft: float
    """Area above which an opening is deducted; 0 for every one."""
    at_threshold: bool
    """Whether an opening of exactly that area is deducted."""
    source: str
    """The source, the place in it, and what it says there."""

    @property
    def basis(self) -> Basis:
        """What it rests on."""
        return Basis(BasisKind.PUBLISHED, self.source)


DEDUCTION_RULES: Mapping[str, DeductionRule] = {
    rule.key: rule
    for rule in (
        DeductionRule("every", "concrete block", 0.0, True, "NCMA TEK 14 (1969): every opening"),
        DeductionRule(
            "stone",
            "stone masonry",
            0.1 * SQUARE_FEET_PER_SQUARE_METER,
            False,
            "IS 1200 (Part 4):1976, Stone masonry, read in a summary: over 0.1 m2",
        ),
        DeductionRule(
            "building",
            "building in general",
            2.0,
            False,
            "Del Pico, Estimating Building Costs for the Residential & Light Commercial "
            "Construction Professional, p. 128: over 2 sq ft",
        ),
        DeductionRule("carpentry", "carpentry", 4.0, False, "Griffith, Carpentry: over 2 x 2 ft"),
        DeductionRule(
            "block",
            "concrete block",
            10.0,
            False,
            "Peterson & Dagostino, Estimating in Building Construction, p. 123: over 10 sq ft",
        ),
        DeductionRule(
            "masonry",
            "masonry",
            70.0,
            True,
            "Masonry Structures (1921), section 54: under 70 sq ft none",
        ),
        DeductionRule(
            "trades",
            "building trades",
            100.0,
            True,
            "ICS Building Trades Pocketbook: 100 sq ft or over",
        ),
    )
}
"""Every rule by its key, the least threshold first."""

_SETS = ("threshold_sqft", "at_threshold")


def terms_of(key: str) -> dict[str, Any]:
    """What a rule sets.

    Args:
        key: The rule's key.

    Returns:
        Its threshold in square feet, and what is done at it, by the names of the settings.

    Raises:
        KeyError: There is no such rule.
    """
    rule = DEDUCTION_RULES[key]
    return {name: getattr(rule, name) for name in _SETS}


def settle_rule(values: dict[tuple[str, str], Any], origins: dict[str, Origin]) -> None:
    """Give a job the threshold of the rule that it names.

    Args:
        values: Checked values by (section, key), which get those of the rule.
        origins: By ``section.key`` where each came from; those of the rule come from where it does.

    Raises:
        SettingsError: Another threshold stands beside the rule; an option wins over a file.
    """
    key = values.get(("deduction", "rule"))
    if key is None:
        return
    own = origins["deduction.rule"]
    for name, value in terms_of(key).items():
        beside = origins.get(f"deduction.{name}")
        is_other = values.get(("deduction", name), value) != value
        if beside is not None and is_other and (own.kind == "option") == (beside.kind == "option"):
            raise SettingsError(
                message(
                    "deduction-twice",
                    place=own.place(folders=True),
                    rule=key,
                    other=beside.place(folders=True),
                    key=f"deduction.{name}",
                )
            )
        if beside is None or own.kind == "option":
            values["deduction", name], origins[f"deduction.{name}"] = value, own
