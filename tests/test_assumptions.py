"""What was assumed: every setting that changes a number, with its value as people read it."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest
from builders import JOB, PRODUCT

from dxf2veneer.config.basis import BasisKind
from dxf2veneer.config.bidding import ItemAllowance
from dxf2veneer.config.blend import Blend, Color, as_wall_shares
from dxf2veneer.config.charges import Charge
from dxf2veneer.config.job import with_settings
from dxf2veneer.config.product import SECTIONS, load_product
from dxf2veneer.config.settings import described
from dxf2veneer.config.tasks import Task
from dxf2veneer.model import PanelEstimate
from dxf2veneer.order.assumptions import assumptions
from dxf2veneer.wording.setting_values import setting_value_text
from dxf2veneer.writers.basis import check_line, to_check

CHANGE_NO_NUMBER = (
    "job.",
    "layers.",
    "output.",
    "limits.",
    "product.file",
    "bid.include",
    "bid.exclude",
    "bid.alternates",
    "order.prices",
    "plan.compare",
    "plan.boxes",
    "drawing.encoding",
)
"""Names, words, looks and limits; files and alternates, which the order tells of itself."""


def listed(**changes):
    return {
        a.key: setting_value_text(a.value, "imperial")
        for a in assumptions(
            with_settings(JOB, **changes), PRODUCT, (), (), PanelEstimate((), 10.0)
        )
    }


@pytest.mark.parametrize(
    "section", ["deduction.", "trim.", "courses.", "plan.", "order.", "labour.", "bid."]
)
def test_every_setting_that_changes_a_number_is_listed(section):
    left_out = {"plan.most", "plan.search"}  # told by a notice where they matter
    left_out.add("plan.blend")  # listed where the product has colors
    settings = {
        k for k in JOB.items() if k.startswith(section) and not k.startswith(CHANGE_NO_NUMBER)
    }
    assert settings - set(listed()) - left_out == set()


def test_values_are_as_people_read_them():
    found = listed(
        plan__kerf=0.125, order__framing=24.0, order__rip_trim=True, order__breakage=4.5,
        order__by_others=("wrb", "caulk"),
        order__items=(ItemAllowance("caulk", None, 5.0), ItemAllowance("cap_stone", "area", None)),
        bid__lines=(Charge("Tax", "tax", percent=6.0, of=("materials",)),),
        labour__tasks=(Task("Lift", None, 2.0, "day", None, 310.0),),
    )  # fmt: skip
    assert (found["plan.kerf"], found["order.framing"], found["order.breakage"]) == (
        '1/8"',
        "2'-0\"",
        "4.5",
    )
    assert (found["order.rip_trim"], found["order.by_others"], found["labour.wage"]) == (
        "yes",
        "wrb, caulk",
        "none",
    )
    assert (found["order.items"], found["bid.lines"], found["labour.tasks"]) == (
        "caulk 5, cap_stone area",
        "Tax: 6 % of materials",
        "Lift: 2 day, 310 each",
    )
    assert listed()["order.items"] == "none"


def test_shares_of_colors_are_listed_where_the_product_has_several():
    product = replace(PRODUCT, blend=Blend((Color("Buff", 62.5), Color("Tan", 37.5))))
    own = as_wall_shares({"wall": "FRONT", "color": "Tan", "share": 100})
    found = {
        a.key: setting_value_text(a.value, "imperial")
        for a in assumptions(
            with_settings(JOB, plan__blend=own), product, (), (), PanelEstimate((), 10.0)
        )
    }
    assert found["blend.colors"] == "Buff 62.5 %, Tan 37.5 %"
    assert found["plan.blend"] == "FRONT: Tan 100 %"


def every(**changes):
    job = with_settings(JOB, **changes)
    return {a.key: a for a in assumptions(job, load_product(), (), (), PanelEstimate((), 10.0))}


def test_every_value_that_a_number_may_hang_on_says_what_it_rests_on():
    without = [key for key, a in every().items() if a.basis is None and a.value not in (None, ())]
    assert without == []


def test_every_number_of_the_product_is_listed():
    numbers = {
        f"{section}.{name}"
        for section, owner in SECTIONS.items()
        for name, _, _ in described(owner)
        if section not in ("product", "blend")
    }
    assert numbers - set(every()) == set()
    for key in ("corner.unequal", "corner.vary", "wrb.lap_level", "starter_fastener.spacing",
                "adhesive.spacing", "lath.margin"):  # fmt: skip
        assert every()[key].basis, key


def test_goods_that_are_not_ordered_are_not_listed():
    job, estimate = JOB, PanelEstimate((), 10.0)
    some = assumptions(job, load_product(), (), (), estimate, goods={"flat_panel"})
    keys = {a.key.partition(".")[0] for a in some}
    assert "flat_panel" in keys and "lath" not in keys


def test_what_is_given_rests_on_the_giver_and_a_published_rule_on_its_source():
    found = every(plan__kerf=0.1, deduction__rule="block")
    kinds = {key: found[key].basis.kind for key in ("plan.kerf", "labour.flat", "wrb.lap_level")}
    assert kinds == {
        "plan.kerf": BasisKind.GIVEN,
        "labour.flat": BasisKind.INVENTED,
        "wrb.lap_level": BasisKind.PUBLISHED,
    }
    assert "p. 123" in found["deduction.threshold_sqft"].basis.note


def test_what_to_check_first_is_listed_with_the_weakest_ground_first():
    took = SimpleNamespace(job=JOB, assumptions=tuple(every(plan__kerf=0.1).values()))
    groups = to_check(took)
    assert [g.kind for g in groups] == [k for k in BasisKind if k is not BasisKind.GIVEN]
    assert groups[0].kind is BasisKind.INVENTED
    invented = {a.key for a in groups[0].of}
    assert {"flat_panel.weight", "labour.flat"} <= invented
    assert "plan.kerf" not in {a.key for g in groups for a in g.of}
    assert "flat_panel.weight 48" in groups[0].values("imperial")
    assert check_line(took).startswith(f"Check before you rely on it: of the values behind the "
                                       f"numbers, {len(invented)} invented")  # fmt: skip
    assert check_line(SimpleNamespace(job=JOB, assumptions=())) == ""
