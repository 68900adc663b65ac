"""Small drawings for the page, and the page served."""

from __future__ import annotations

import threading
from contextlib import contextmanager
from pathlib import Path

import ezdxf

from dxf2veneer.page.server import serve
from dxf2veneer.page.session import Session


def rectangle(msp, x0, y0, x1, y1, layer="0"):
    """Four loose lines."""
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        msp.add_line(a, b, dxfattribs={"layer": layer})


def draw_front(path: Path) -> Path:
    """A front of 24 by 9 ft in inches, all on one layer, with a title that names it.

    y 108 +--------------------------------------------+
          |          84 +------+                       |
          |  72 +----+  |      |        +--+           |
          |     |    |  |      |        |  | 60..72    |
       36 |     +----+  |      |        +--+           |
          |             |      |                       |
      0 --+-------------+------+-----------------------+-- ground runs on
          0    24   60  96  132         200 212       288

    The window is 36 x 36 with a sash 2 in inside; the door 36 x 84; the vent 12 x 12.
    """
    document = ezdxf.new("R2010", setup=False)
    document.header["$INSUNITS"] = 1
    document.layers.add("ELEV")
    msp = document.modelspace()
    rectangle(msp, 0, 0, 288, 108, "ELEV")
    msp.add_line((-60, 0), (360, 0), dxfattribs={"layer": "ELEV"})
    rectangle(msp, 24, 36, 60, 72, "ELEV")
    rectangle(msp, 26, 38, 58, 70, "ELEV")
    rectangle(msp, 96, 0, 132, 84, "ELEV")
    rectangle(msp, 98, 0, 130, 82, "ELEV")
    rectangle(msp, 200, 60, 212, 72, "ELEV")
    msp.add_text("FRONT ELEVATION", height=8, dxfattribs={"layer": "ELEV"}).set_placement((90, -40))
    document.saveas(path)
    return path


@contextmanager
def served(session: Session):
    """The address of a session's page while it is served."""
    server, address = serve(session)
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
    thread.start()
    try:
        yield address
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
