"""What was assumed: every setting that changes a number, with its value as people read it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from builders import JOB, PRODUCT

from dxf2veneer.config.bidding import ItemAllowance
from dxf2veneer.config.blend import Blend, Color, as_wall_shares
from dxf2veneer.config.charges import Charge
from dxf2veneer.config.job import with_settings
from dxf2veneer.config.tasks import Task
from dxf2veneer.model import PanelEstimate
from dxf2veneer.order.assumptions import assumptions
from dxf2veneer.wording.setting_values import setting_value_text

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
