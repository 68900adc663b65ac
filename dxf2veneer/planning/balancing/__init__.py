"""Lengths of a plan balanced: joints moved so that all parts of the job fit into fewer panels.

needed.py     the panels that the parts need, as a count for every length
divided.py    the runs whose joints may move, and which parts stay as they are
moves.py      other places for the joints of one run, and what each costs
fitting.py    exact lengths for parts that share panels, by a linear program
search.py     the plan with its joints moved
"""
