"""A page on this machine in which a person looks at a proposal and mends it by pointing.

marks.py     what the person decides: walls and openings as plain outlines, the unit
edits.py     each change of the marks as a pure function; history.py takes them back
shaping.py   what an outline makes of the walls; bounds.py what a line makes of them
cropping.py  a view cropped to a box
fitting.py   what an outline is by its place among the marks
edges.py     edges of walls, caps and levels that are marked by lines
pointing.py  what lies under the pointer: faces between lines, ends and crossings
outlines.py  closed outlines between lines
placed.py    outlines of single blocks and closed entities
areas.py     what the proposal weighs and does not take
lines.py     the drawing's lines and texts packed for the page
figures.py   walls measured by the stages of a takeoff
coursing.py  their course lines and slivers
job_file.py  the job file, saved whole and never over another hand's changes
taking.py    a takeoff made of the saved job file
answers.py   what the page is told of a place
opened.py    a drawing as it was read; state.py everything that the page shows as plain data
watching.py  whether a file has changed on the disk
session.py   one drawing and one job file while the page is open
server.py    requests of the page and who may make them
single.py    the same page in one file that needs no server
assets/      the page itself: markup, style, modules
"""
