"""Course lines and what stands in their way.

bands.py         courses of a wall, and where heads, sills, tops and caps miss them
start_groups.py  walls whose courses run together, and what each shift of their lines counts for
start.py         the start that suits them best, and others beside it
joined.py        walls that meet at a corner and whose courses may not
start_use.py     what is made of it: the job that a wall is laid with, notices
"""
