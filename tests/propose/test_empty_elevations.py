"""Elevations in which no wall was found are told."""

from drawn_sheets import facade, scene, sheet

from dxf2veneer.propose.proposing import proposal_of


def _sheet():
    """A facade, and beside it an elevation of no more than a cloud of strokes over its title."""
    document, space = sheet(units=4)
    facade(space, 0, 0)
    space.add_text("SOUTH ELEVATION", height=300).set_placement((2000, -1500))
    for k in range(30):
        x = 20000 + 250 * k
        space.add_line((x, 200 * (k % 5)), (x + 400, 3000 + 150 * (k % 7)))
    space.add_text("NORTH ELEVATION", height=300).set_placement((22000, -1500))
    return document


def test_an_elevation_without_a_wall_is_named():
    proposal = proposal_of(scene(_sheet()))
    assert {v.title for v in proposal.views if v.kind == "elevation"} == {
        "SOUTH ELEVATION",
        "NORTH ELEVATION",
    }
    assert [v.title for v in proposal.empty_elevations(0.8)] == ["NORTH ELEVATION"]
    assert proposal.empty_elevations(1.01) == ()
