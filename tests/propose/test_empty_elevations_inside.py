"""What stands before a front is no elevation without walls."""

from __future__ import annotations

from dxf2veneer.propose.proposal import Proposal, ProposedView, ProposedWall, Reason

WHY = Reason("VIEW_TITLED", {"title": "FRONT"})


def view(name, box):
    return ProposedView(name, "elevation", "", box, 0.98, WHY)


def test_a_tree_in_the_box_of_a_front_is_no_elevation_without_walls():
    """The front V1 of 40 x 12, a tree V2 before it whose crown reaches a little over, and a rear V3
    beside it, in which no wall was found.

     ____________V2___     __________
    |  V1       |  |  |   |   V3     |
    |___________|__|__|   |__________|
    """
    wall = ProposedWall("W1", "V1", ((0, 0), (40, 0), (40, 10), (0, 10)), 0.9, Reason("WALL", {}))
    views = (view("V1", (0, 0, 40, 12)), view("V2", (28, 0, 34, 12.5)), view("V3", (50, 0, 90, 12)))
    proposal = Proposal(None, False, (), views, (wall,), ())
    assert [v.id for v in proposal.empty_elevations(0.9)] == ["V3"]
