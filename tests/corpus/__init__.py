"""Drawing sheets as people of many offices draw them, each with its truth, made from a seed.

``make_sheet(seed)`` gives a sheet: an ezdxf document, what is true of it and tags that say what is
hard about it. The same seed always gives the same bytes. Nothing here imports the package under
test.

**The split.** Rules of thumb may be tuned on the seeds of ``SEEN``. Nobody looks at the sheets of
``KEPT_ASIDE``, at what a tool finds on them one by one, or at ``strange.py``, which holds drafting
styles and a language that only they use; only the sums that the benchmark prints are read.

**What is true** (lengths in drawing units, the JSON shape of a proposal):

- A *wall* is a clad area of an elevation as far as it is visible: bounded by ground, corners, the
  underside of fascias and bargeboards. A wing in front is a wall of its own and hides what is
  behind it. Where the cladding changes at a level (wainscot, clad gable; two textures are drawn, or
  one and none), two walls meet. The line of a floor across a wall bounds nothing, nor do posts,
  downpipes, plants and axes in front of it. What lies wholly within a wall's outline (a canopy,
  the roof of a porch before its middle) is not deducted; a porch roof that reaches its edge bounds
  it.
- An *opening* is the outline of the outermost frame; sills, lintels and shutters are outside it.
  Its wall is the one that holds most of it (a door may cross the top of a wainscot).
- A *view* is everything that was drawn for it, with dimensions, marks and title. Paper outside
  model space and content of hidden layers are not told.
"""

from corpus.sheets import KEPT_ASIDE, SEEN, Sheet, make_sheet

__all__ = ["KEPT_ASIDE", "SEEN", "Sheet", "make_sheet"]
