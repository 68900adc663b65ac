"""Course lines, the start that suits them best, and what stands in their way.

    walls -> groups -> searches -> (plans of tied starts) -> tables -> courses -> notices
             groups.py search.py    app/laying.py            choice.py bands.py   notices.py

starter.py    height of the starter line, over a base or through a level line
meetings.py   heads, sills, tops and caps that course lines meet or miss
groups.py     walls whose courses run together, and what a shift of their lines counts for
search.py     the starts of a group that suit it best, exact
choice.py     the best of them, by the panels they take; the table of starts
bands.py      courses of a wall that is laid with a start, and where they miss heads and sills
notices.py    what there is to report of all that
"""
