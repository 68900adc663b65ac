"""Runs of a plan laid anew together, where that saves panels: the exact search of small jobs.

program.py    a mixed-integer program, solved by HiGHS
sections.py   what is laid anew and what stays: room in panels, joints beside free runs
ways.py       the ways to divide a run
model.py      the program of the free runs
search.py     the plan with those runs laid anew
faces.py      a job of column faces laid anew, by threshold accepting
"""
