"""The plan of walls as measured that keeps as much of the plan before as it can.

before.py    the runs of the plan before, read from its pieces
ways.py      ways to lay a run, and how many pieces each changes
program.py   the fewest changed pieces over all runs: a mixed-integer program
panels.py    parts stay in their panels; those that no longer fit get other ones
keeping.py   all of it in order
"""
