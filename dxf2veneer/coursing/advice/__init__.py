"""Advice on courses: where to start, and which openings to move, within limits that a person gives.

    walls, job -> movables -> moves at a start -> search over starts -> picking
                  movable.py  moves.py            search.py             picking.py
                  room.py

movable   like openings that stand in a row (one kind, one head, one sill, one limit), or caps at
          one height: they move together, as a whole or with a change of height
head line  movables whose heads are drawn at one height; moving some of them puts heads out of line
front     what no other beats: in slivers, pieces to rip, heads out of line, openings changed and
          bare ground

           .-----.   <- head line ->   .---.
    up     |     |                     |   |    each may go up and down as far as its limit,
     |     |     |                     |   |    the wall and its neighbors let it
    down   '-----'                     '---'
    =========================================   start: one shift for all walls of a group

Why finitely many starts are enough: at a shift s of the course lines, what a movable can reach
(clean, a strip, a sliver, at head and sill) depends on s through the same breaks as without moves
(``coursing/search.py``), each moved by what the limits allow: by 0, the farthest move m, the
greatest change of height c, and m - c. Between neighboring breaks every movable can reach the same,
so that one start of each stretch between them and the breaks themselves take every value. Of these
the ones are tried that a person would set out: at which a line meets something or a strip is as
high as the limit, and multiples of a legible step. Given s, rows do not depend on each other but
through head lines, so that sums of what each can reach, without those that another beats, are all
there is.
"""
