"""Whether two courses leave the joints of a run any way to keep the stagger (rule L3).

       run      |  first  |   whole   | last |      all layouts of the run, over
    runs below  | ?    |   ?   | | ?    |   ?  |    all layouts of those below

**Proof.** A mixed-integer program over all real lengths of the run and of the runs below it,
however the plan laid those. Left out are the other courses, corner cuts that vary, legs beside
openings and panels, which only lets more layouts in: where the program has no solution, no layout
of the job keeps the rule there.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence

from dxf2veneer.basics.tolerances import EXACT_IN, STAGGER_PROOF_NODES
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.relaying.model import JointsProgram
from dxf2veneer.planning.relaying.ways import ways_of
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes


def is_always_near(run: Run, below: Sequence[Run], sizes: LayingSizes) -> bool:
    """Whether it is proved that joints of a run stand nearer than the stagger to those below.

    Args:
        run: The run.
        below: The runs of the course below it; those that can't be divided by the rules count for
            nothing.
        sizes: Lengths and limits, in inches.

    Returns:
        Whether no layout of them all keeps the stagger; False for a run that can't be divided.
    """
    easy = dataclasses.replace(
        sizes, stagger=sizes.stagger - 2.0 * EXACT_IN, least=sizes.least - EXACT_IN
    )
    if not any(ways_of(run, easy)):
        return False
    near = [r for r in below if r.x0 < run.x1 and r.x1 > run.x0 and any(ways_of(r, easy))]
    bare = [LaidRun(dataclasses.replace(r, notches=()), (), ()) for r in (*near, run)]
    joints = JointsProgram(bare, range(len(bare)), easy)
    joints.keep_apart()
    values, is_proved = joints.program.least(STAGGER_PROOF_NODES)
    return values is None and is_proved
