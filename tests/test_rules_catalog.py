"""The catalog of laying rules: every rule once, with a name, words, an origin, and real settings.

L1 to L27 are the rules of the trade that the project holds to; three more make a plan a plan.
"""

from __future__ import annotations

import dataclasses
import re

import pytest
from builders import PRODUCT

from dxf2veneer.config import job, product, rules
from dxf2veneer.config.rules import JUDGED, RULES, RuleId, RuleOrigin, RuleUse, rule_name

ONE = [pytest.param(rule, id=rule.id) for rule in RULES.values()]


def test_every_rule_of_the_trade_is_there_in_order():
    assert list(RULES) == ["cover", "stock", "declared", *(f"L{n}" for n in range(1, 28))]
    assert set(RULES) == set(RuleId)


def test_names_are_plain_and_no_two_are_alike():
    names = [rule.name for rule in RULES.values()]
    assert len(set(names)) == len(names)
    assert not [name for name in names if re.search(r"\bL\d", name)]


@pytest.mark.parametrize("rule", ONE)
def test_a_rule_says_what_must_hold_in_full_sentences(rule):
    assert rule.says[0].isupper() and rule.says.endswith(".")
    assert not re.search(r"\bL\d", rule.says + rule.note)


@pytest.mark.parametrize("rule", ONE)
def test_what_sets_a_rule_is_a_value_of_the_product_or_a_setting_of_the_job(rule):
    for sections, keys in ((product.SECTIONS, rule.product), (job.SECTIONS, rule.job)):
        for section, _, key in (key.partition(".") for key in keys):
            assert key in {f.name for f in dataclasses.fields(sections[section])}


@pytest.mark.parametrize("rule", ONE)
def test_a_published_rule_names_its_source(rule):
    if rule.origin is RuleOrigin.PUBLISHED:
        assert "IRC" in rule.note
    assert "code compliant" not in rule.says + rule.note


def test_the_numbers_in_the_words_are_those_of_the_generic_panel():
    # the words say 8 in for the stagger and the least piece, the defaults 2 in for the least strip
    generic = product.load_product()
    assert (generic.laying.stagger, generic.laying.least_piece) == (8.0, 8.0)
    for id_ in (RuleId.STAGGER, RuleId.LEAST_PIECE):
        assert "8 in" in RULES[id_].says
    assert job.Job().courses.sliver == 2.0 and "2 in" in RULES[RuleId.LEAST_STRIP].says
    assert job.Job().order.other_scrap == 10.0 and "10 %" in RULES[RuleId.SCRAP_ALLOWANCE].says
    assert PRODUCT.panel.length * PRODUCT.panel.height == 2 * 144


def test_the_judge_checks_the_rules_that_say_so():
    assert tuple(id_ for id_, rule in RULES.items() if rule.use is RuleUse.JUDGED) == JUDGED
    assert [*JUDGED] == (
        ["cover", "stock", "declared", *(f"L{n}" for n in (3, 4, 5, 6, 7, 8, 9, 12, 13, 24))]
    )


def test_people_read_the_name():
    assert (rule_name("L3"), rule_name("cover")) == ("stagger", "cover")
    with pytest.raises(ValueError, match="L28"):
        rules.rule_name("L28")
