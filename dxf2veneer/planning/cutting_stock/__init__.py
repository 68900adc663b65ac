"""The cutting-stock problem: parts of given lengths out of as few panels as can be found.

packing.py     parts into panels: matching of the two hands, greedy, and the lower bounds
patterns.py    contents of one panel (cutting patterns), and searches for the fewest panels
panels.py      from laid runs to panels, where in it each part lies
bounds.py      what no plan of a job can do without, whatever lengths it chooses: by formula
dual_bound.py  the same by linear programming: slower, and the strongest
dual_stacks.py a bay's courses in it, two by two
run_kinds.py   what corner pieces may cover of a run, for the bounds
"""
