"""The user's drawing copied whole, with coursing advice on layers of its own.

One layer for each number of a proposal: openings where they would stand, course lines, the starter,
and beside each moved opening how far it goes. The source is only read; one in text is kept to the
byte, as by the overlay.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import NamedTuple

from ezdxf.document import Drawing as Document
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.lldxf.const import DXF12

from dxf2veneer.basics.messages import message
from dxf2veneer.drawing.entities.ours import APPID, LAYER_TAG, STRING_TAG
from dxf2veneer.geometry import Path as Outline
from dxf2veneer.geometry import Point
from dxf2veneer.model import CourseProposal, CoursingAdvice, Drawing, WallTakeoff
from dxf2veneer.textio.escaping import for_dxf, for_xdata
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.wording import say
from dxf2veneer.writers.advice.words import Names, move_message, proposal_message
from dxf2veneer.writers.overlay.copy import DAMAGE, OverlayError, copy_of, one_line
from dxf2veneer.writers.overlay.graft.donor import donor_of
from dxf2veneer.writers.overlay.graft.splice import Splice
from dxf2veneer.writers.overlay.layers import layer_names
from dxf2veneer.writers.overlay.saving import check_names, same_bytes_always, save
from dxf2veneer.writers.overlay.writing import kept_anatomy

_COLORS = (5, 3, 6, 30, 4, 1)
"""Color numbers of the first layers; they come round again."""
_TEXT_SHARE = 0.35
"""Height of texts in course heights."""


def layer_name(prefix: str, number: int) -> str:
    """The layer of a proposal.

    Args:
        prefix: Beginning of our layer names.
        number: Number of the proposal, 1 the first.

    Returns:
        Such as A-ELEV-VENR-ADV1.
    """
    return f"{prefix}-ADV{number}"


def write_advised(advice: CoursingAdvice, drawing: Drawing, source: Path, path: Path) -> None:
    """Write a copy of a drawing with its proposals, a layer for each number; the first is on.

    Args:
        advice: The advice.
        drawing: The drawing.
        source: The drawing's file.
        path: The file to write, as text.

    Raises:
        OverlayError: The source can't be copied, or would be overwritten.
        OSError: Nothing can be written there.
    """
    output = advice.job.output
    if source.resolve() == path.resolve():
        raise OverlayError(message("overlay-over-drawing", file=str(path)))
    most = max((len(g.proposals) for g in advice.groups), default=0)
    prefix, encoding = output.layer_prefix, advice.job.drawing.encoding
    names = [layer_name(prefix, n) for n in range(1, most + 1)]
    content = source.read_bytes() if source.is_file() else b""
    anatomy = kept_anatomy(content, output, encoding)
    if anatomy:
        doc = donor_of(anatomy, names)
    else:
        doc, _ = copy_of(
            source,
            encoding,
            version=output.dxf_version,
            inches_per_unit=drawing.inches_per_unit,
            limits=advice.job.limits,
        )
    check_names(doc, source, prefix, names)
    try:
        _draw(advice, drawing, doc, most)
        if not anatomy:
            _seal(doc, prefix)
        with same_bytes_always():
            write_whole(path, Splice(anatomy, doc, names).write if anatomy else partial(save, doc))
    except OSError:
        raise
    except DAMAGE as error:
        raise OverlayError(
            message("overlay-not-copied", file=str(source), reason=one_line(error))
        ) from error


class _Pen(NamedTuple):
    """Draws on one layer; places are inches."""

    doc: Document
    layer: str
    inches: float

    def outline(self, path: Outline, what: str) -> None:
        """A closed outline whose arcs stay arcs."""
        vertices = [(*self._at((x, y)), bulge) for x, y, bulge in path.vertices]
        space = self.doc.modelspace()
        add = space.add_polyline2d if self.doc.dxfversion <= DXF12 else space.add_lwpolyline
        on = {"layer": self.layer, **self._weight(50)}
        self._tag(add(vertices, format="xyb", close=path.closed, dxfattribs=on), what)

    def line(self, start: Point, end: Point, what: str) -> None:
        """A straight line."""
        space = self.doc.modelspace()
        on = {"layer": self.layer, **self._weight(50 if what == "advised-starter" else 13)}
        self._tag(space.add_line(self._at(start), self._at(end), on), what)

    def text(self, words: str, at: Point, height: float) -> None:
        """A line of text that begins at a place."""
        on = {"layer": self.layer, "insert": self._at(at)}
        space = self.doc.modelspace()
        entity = space.add_text(for_dxf(words), height=height / self.inches, dxfattribs=on)
        self._tag(entity, "advised-text")

    def _weight(self, hundredths: int) -> dict[str, int]:
        return {} if self.doc.dxfversion <= DXF12 else {"lineweight": hundredths}

    def _at(self, point: Point) -> Point:
        return point[0] / self.inches, point[1] / self.inches

    def _tag(self, entity: DXFGraphic, what: str) -> None:
        tags = [(STRING_TAG, for_xdata(f"what={what}")), (LAYER_TAG, self.layer)]
        entity.set_xdata(APPID, tags)


def _draw(advice: CoursingAdvice, drawing: Drawing, doc: Document, most: int) -> None:
    """All proposals on their layers."""
    if APPID not in doc.appids:
        doc.appids.add(APPID)
    names = Names(advice)
    for n in range(1, most + 1):
        name = layer_name(advice.job.output.layer_prefix, n)
        if name not in doc.layers:
            layer = doc.layers.add(name, color=_COLORS[(n - 1) % len(_COLORS)])
            if n > 1:
                layer.off()
        pen = _Pen(doc, name, drawing.inches_per_unit)
        for group in advice.groups:
            if n <= len(group.proposals):
                proposal = group.proposals[n - 1]
                own = [w for w in proposal.walls if w.wall.drawing == drawing.index]
                for wall in own:
                    _wall(pen, wall, proposal, advice, names)
                for wall in own[:1]:
                    said = say(proposal_message(proposal, group, names), advice.job.output.display)
                    x0, y0, _, _ = wall.wall.box
                    high = _TEXT_SHARE * advice.product.panel.height
                    pen.text(f"{n} {said}", (x0, y0 - (2.0 + 2.0 * n) * high), high)


def _seal(doc: Document, prefix: str) -> None:
    """The seal where an overlay has its own, which takes its place."""
    title = layer_names(prefix)["title"]
    sealed = doc.layers.get(title) if title in doc.layers else doc.layers.add(title)
    sealed.set_xdata(APPID, [(STRING_TAG, BLANK_SEAL)])


def _wall(
    pen: _Pen, wall: WallTakeoff, proposal: CourseProposal, advice: CoursingAdvice, names: Names
) -> None:
    """One wall: its course lines, and openings that moved."""
    for line in wall.courses.lines:
        if line.index:
            pen.line((line.x0, line.y), (line.x1, line.y), "advised-course")
    for line in wall.courses.starter_lines:
        pen.line((line.x0, line.y), (line.x1, line.y), "advised-starter")
    high, moved = _TEXT_SHARE * advice.product.panel.height, proposal.moved
    for opening in wall.wall.openings:
        shift = moved.get(opening.id)
        if shift is None:
            continue
        for path in opening.region.paths:
            pen.outline(path, "advised-opening")
        alone = replace(shift, ids=(opening.id,), drawn=())
        x0, y0, _, y1 = opening.box
        said = say(move_message(alone, names), advice.job.output.display)
        pen.text(said, (x0 + high / 2.0, (y0 + y1) / 2.0), high)
    for cap in wall.wall.caps:
        pen.line((cap.x0, cap.y), (cap.x1, cap.y), "advised-cap")
