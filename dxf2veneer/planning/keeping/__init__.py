"""The plan of walls as measured that keeps as much of the plan before as it can.

before.py    the runs of the plan before, read from its pieces
ways.py      ways to lay a run, and how many pieces each changes
bays.py      lengths to try where both sides of a bay's corner come from one panel
program.py   the fewest changed pieces over all runs: a mixed-integer program
panels.py    parts stay in their panels; those that no longer fit get other ones
keeping.py   all of it in order
"""
