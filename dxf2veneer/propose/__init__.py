"""From a stranger's drawing to a proposal: its unit, its views, the walls of each elevation and their openings.

The stages in order; each looks only at what the one before found:

    reading/     a file to a scene: everything visible, flattened
    scene.py     what a scene is
    views/       the scene split into elevations, plans, sections, details, sheet frames
    unit/        the drawing's unit from what is drawn and written, weighed together
    constants.py every rule of thumb: its value, its unit, its reason
"""
