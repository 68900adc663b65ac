"""What each default, and each value of the panel that ships, rests on."""

from __future__ import annotations

import pytest

from dxf2veneer.config import job, product
from dxf2veneer.config.basis import Basis, BasisKind, basis_of_comment
from dxf2veneer.config.deductions import DEDUCTION_RULES
from dxf2veneer.config.product import GENERIC, load_product
from dxf2veneer.config.settings import described
from dxf2veneer.config.toml_file import read

NOTHING = (None, (), "")
"""Defaults that say nothing, so that no number rests on them."""


@pytest.mark.parametrize("sections", [job.SECTIONS, product.SECTIONS], ids=["job", "product"])
def test_every_default_says_what_it_rests_on(sections):
    without = [
        f"{section}.{name}"
        for section, owner in sections.items()
        for name, about, default in described(owner)
        if default not in NOTHING and about.basis is None
    ]
    assert without == []


def test_every_value_of_the_panel_that_ships_says_what_it_rests_on():
    file = read(GENERIC)
    values = [(s, key) for s, body in file.values.items() for key in body]
    without = [key for key in values if basis_of_comment(file.comment(*key)) is None]
    assert without == [("product", "origin")]  # which says it in words, of all of them


@pytest.mark.parametrize(
    ("comment", "kind", "note"),
    [
        ("invented for this tool: 16 lb a panel", BasisKind.INVENTED, "16 lb a panel"),
        ("invented", BasisKind.INVENTED, ""),
        ("from memory, not checked against a source: a guess", BasisKind.MEMORY, "a guess"),
        ("common practice, no published source", BasisKind.COMMON, ""),
        ("published: IRC R703.2, at least one", BasisKind.PUBLISHED, "IRC R703.2, at least one"),
    ],
)
def test_a_comment_marks_what_its_value_rests_on(comment, kind, note):
    assert basis_of_comment(comment) == Basis(kind, note)


@pytest.mark.parametrize("comment", ["", "maker's sheet, p. 3", "published", "inventory of May"])
def test_other_comments_mark_nothing(comment):
    assert basis_of_comment(comment) is None


def test_a_published_value_names_its_source():
    with pytest.raises(ValueError, match="source"):
        Basis(BasisKind.PUBLISHED)
    assert all(rule.basis.note for rule in DEDUCTION_RULES.values())


def test_a_value_of_your_own_file_is_yours_unless_its_comment_says_otherwise(tmp_path):
    path = tmp_path / "panel.toml"
    path.write_text(
        "[panel]\nlength = 30  # maker's sheet, p. 3\nheight = 6\n"
        "[laying]\nstagger = 6  # from memory\nleast_piece = 6\n[cap]\nheight = 2\n"
        "[flat_panel]\nweight = 40\n"
    )
    own = load_product(path)
    kinds = {
        "panel.length": Basis(BasisKind.GIVEN, "maker's sheet, p. 3"),
        "panel.height": Basis(BasisKind.GIVEN),
        "laying.stagger": Basis(BasisKind.MEMORY),
        "flat_panel.weight": Basis(BasisKind.GIVEN),
        "corner.column": Basis(BasisKind.COMMON, "as the rule for rough columns"),
        "wrb.lap_level": Basis(BasisKind.PUBLISHED, "IRC R703.2"),
    }
    assert {key: own.basis_of(key) for key in kinds} == kinds
    assert own.is_invented("corner_panel.weight")  # left out: the panel that ships stands in
