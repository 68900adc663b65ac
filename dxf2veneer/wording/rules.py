"""Rules of laying as people read them: by their plain name. The code stays for programs."""

from __future__ import annotations

from dxf2veneer.config.rules import RULES, RuleId

WHOSE_RULES = (
    "this tool's list in docs/rules.md, common practice with your product's values; no code"
)
"""Whose the rules of laying are, beside every word that they hold."""


def rule_name(rule: str) -> str:
    """The plain name of a rule.

    Args:
        rule: The rule's code, such as ``L3``.

    Returns:
        Its name, such as ``stagger``.

    Raises:
        ValueError: There is no rule of that code.
    """
    return RULES[RuleId(rule)].name


def rule_label(rule: str) -> str:
    """A rule's name with its code behind it.

    Args:
        rule: The rule's code, such as ``L3``.

    Returns:
        A text such as ``stagger (L3)``; the name alone where it is the code.

    Raises:
        ValueError: There is no rule of that code.
    """
    name = rule_name(rule)
    return name if name == rule else f"{name} ({rule})"
