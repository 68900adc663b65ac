"""Many drawings, each a job of its own: side by side, whole or not at all, what is done not twice.

each.py      a task for each drawing, worked off
workers.py   the pool of processes that work on them
record.py    what is kept beside the outputs, so that a later run knows what is done
summary.py   the table over all drawings, a row for each
"""
