"""The walls of an elevation.

texture.py     which lines are cladding
ends.py        what the ends of lines lie on
ground.py      level lines, ground and eaves
steps.py       the ground where it steps
uneven.py      the ground that is a chain of slopes or a curve
reaching.py    lines that end a little short of what they meet
bridging.py    corners that the end of a cap interrupts
bands.py       bands of roof edges, roofs and chimneys
rubble.py      joints of irregular stones
shoulders.py   short slopes of chimneys
structure.py   these together, with the faces between the lines
behind.py      cladding that goes on behind porches and canopies
rising.py      uprights that rise over the edge of a roof: party walls, chimneys
edges.py       corners of the building and of its wings
rows.py        party lines between the houses of a row
parts.py       faces joined up to what bounds a wall
flights.py     steps before doors, behind which nothing is laid
roofs.py       roofs parted from the walls under them by a fascia with hidden ends
mansards.py    steep roofs in line with the wall under them
ridges.py      roofs under a ridge whose sides end over the air
glazing.py     walls told from roofs by their windows
claddings.py   parted where the cladding changes
caps.py        caps that stand out past the sides of a wall, between claddings
piers.py       piers before a wall, under caps
entrances.py   piers on both sides of an entrance, under its canopy
fronts.py      fronts of shops and entrances, parts of the wall around
trim.py        caps, sills and bands between claddings
surfaces.py    what is drawn all over a stretch of wall
strips.py      the area that strips beside lines cover of it
areas.py       borders of hatches that stand in for lines
finding.py     the stages in order
"""

from dxf2veneer.propose.walls.finding import find_walls

__all__ = ["find_walls"]
