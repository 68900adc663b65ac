"""The course plan, panel by panel.

plan.py           the stage: walls with courses in, walls with pieces and the plan out
runs.py           the stretches of a course that nothing interrupts
sizes.py          lengths and limits that the layout works with
lookahead.py      what is still to come after each run
situation.py      a run to be laid in its situation, and one candidate of its layout
candidates.py     the candidate layouts of a run that are worth trying
rule_costs.py     what the rules that a candidate breaks cost
offcuts.py        what is left of cut panels
costing.py        what a candidate costs, offcuts used as well as can be
joint_slack.py    the slack that joints below leave to those of a run
layout.py         beam search over the runs of a job
search.py         the cheapest of several layouts, and of a small job the exact search
balancing/        joints moved until all parts fit into fewer panels
look/             joints moved for their look
crew/             offcuts used near the panel that they come from
room/             room for edges that are off
relaying/         runs laid anew together by a mixed-integer program
cutting_stock/    parts packed into panels, and lower bounds
placement.py      from laid runs to pieces
strips.py         level strips of a piece, along its boundary
exceptions.py     where the wall leaves a rule no way to hold, and why
"""
