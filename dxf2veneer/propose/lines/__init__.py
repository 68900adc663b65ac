"""Lines of a view.

runs.py       joined where they are in one line
rounding.py   cut where they meet
noding.py     small gaps bridged, and the faces between them
crossing.py   which run through what others draw
along.py      how much of an outline they draw
"""
