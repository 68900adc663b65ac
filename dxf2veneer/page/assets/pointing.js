// What pointing at the sheet means: outlines, corners, or the ends of a known length.

import { NAMES } from "./overlay.js";
import { read } from "./talk.js";

const REACH_PX = 11;
const CLOSE_PX = 10;

const ASKS = {
  box: ["Point at one corner", "Point at the opposite corner"],
  corners: ["Point at the first corner", "Point at the next corner; end at the first one"],
  round: ["Point at the left end of a round opening", "Point at its right end"],
  edge: ["Point at an upright edge of a wall, for a cap at its top, for a level line at a height", ""],
  length: ["Point at one end of a length that you know", "Point at its other end"],
};

const ROUND = 64; // sides of a round opening, of its own area

function roundOf([ax, ay], [bx, by]) {
  const x = (ax + bx) / 2, y = (ay + by) / 2, turn = (2 * Math.PI) / ROUND;
  const radius = Math.hypot(bx - ax, by - ay) / 2 * Math.sqrt(turn / Math.sin(turn));
  return Array.from({ length: ROUND }, (_, i) => [x + radius * Math.cos(i * turn), y + radius * Math.sin(i * turn)]);
}

export class Pointing {
  // does: toDrawing(x, y), scale(), make(outline, kind), measured(points), show(), say(text)
  constructor(does) {
    this.does = does;
    this.way = "outline";
    this.kind = "fits";
    this.line = "outside";
    this.how = "fits";
    this.last = Promise.resolve();
    this.begin();
  }

  begin() {
    this.outlines = [];
    this.bound = null;
    this.nest = 0;
    this.corners = [];
    this.snap = null;
    this.place = null;
    this.asked = 0;
    this.#tell();
  }

  setWay(way) { this.way = way; this.begin(); this.does.show(); }

  setKind(kind) { this.kind = kind; this.#tell(); }

  get takesLines() { return this.way === "line" || (this.way === "outline" && this.shift); }

  // Outlines that light up, each as points.
  get under() {
    if (this.takesLines) return this.bound ? this.bound.outlines : [];
    const outline = this.way === "outline" && this.outlines[this.nest];
    return outline ? [outline.points] : [];
  }

  get pointedLine() { return this.takesLines && this.bound ? this.bound.line : null; }

  get trail() { return this.place && this.corners.length ? [...this.corners, this.place] : this.corners; }

  async hover(x, y) {
    const asked = ++this.asked;
    if (this.busy) { this.next = [x, y]; return; }
    this.busy = true;
    try {
      await this.#look(x, y, () => asked === this.asked);
    } finally {
      this.busy = false;
      const next = this.next;
      this.next = null;
      if (next) this.hover(...next);
    }
  }

  leave() {
    this.asked++;
    this.next = null;
    this.outlines = [];
    this.bound = null;
    this.nest = 0;
    this.snap = this.place = null;
    this.#tell();
    this.does.show();
  }

  larger(by) {
    this.nest = Math.max(0, Math.min(this.outlines.length - 1, this.nest + by));
    this.#tell();
    this.does.show();
  }

  // Two opposite corners at once, by dragging from one to the other.
  async drag(from, to) {
    this.corners = [];
    for (const [x, y] of [from, to]) await this.point(x, y, false);
  }

  clear() { return this.become("nothing"); }

  // The outline under the pointer becomes a kind, whatever is chosen.
  async become(kind) {
    const outline = this.way === "outline" && this.outlines[this.nest];
    if (outline) await this.does.make(outline.points, kind);
  }

  // A point of the hand. A touch shows an outline first and makes it when it is tapped again.
  // Points are worked off one after the other, however fast they come.
  point(x, y, isTouch) {
    const mine = this.last.then(() => this.#point(x, y, isTouch));
    this.last = mine.catch(() => {});
    return mine;
  }

  async #point(x, y, isTouch) {
    const before = this.outlines[this.nest]?.points, shown = this.bound;
    this.asked++;
    await this.#look(x, y, () => true);
    if (this.takesLines) { await this.#line(isTouch, shown); return; }
    if (this.way !== "outline") { await this.#corner(x, y); return; }
    const outline = this.outlines[this.nest];
    if (!outline) { this.does.say("No closed outline here. Zoom in, or point at corners"); return; }
    if (isTouch && JSON.stringify(before) !== JSON.stringify(outline.points)) return;
    await this.does.make(outline.points, this.kind);
  }

  async #look(x, y, counts) {
    const [dx, dy] = this.does.toDrawing(x, y);
    const reach = REACH_PX / this.does.scale();
    if (this.takesLines) {
      const found = await read("bound", { x: dx, y: dy, reach, how: this.way === "line" ? this.how : "fits" });
      if (!counts()) return;
      this.bound = found && { ...found, at: [dx, dy] };
    } else if (this.way === "outline") {
      const found = await read("outlines", { x: dx, y: dy });
      if (!counts()) return;
      const same = JSON.stringify(found[0]?.points) === JSON.stringify(this.outlines[0]?.points);
      this.outlines = found;
      this.nest = same ? Math.min(this.nest, Math.max(found.length - 1, 0)) : 0;
    } else {
      const found = await read("snap", { x: dx, y: dy, reach });
      if (!counts()) return;
      this.snap = found;
      this.place = found ? found.at : [dx, dy];
    }
    this.#tell();
    this.does.show();
  }

  async #line(isTouch, shown) {
    const { bound } = this;
    if (!bound) { this.does.say("No line that could bound a wall here. Zoom in, or point at another"); return; }
    if (isTouch && JSON.stringify(shown?.line) !== JSON.stringify(bound.line)) return;
    await this.does.bound(bound.line, bound.at, this.way === "line" ? this.how : "fits");
  }

  async #corner() {
    const { corners, place } = this;
    if (this.way === "edge") {
      await this.does.mark(place, this.line, (2 * REACH_PX) / this.does.scale());
      return;
    }
    const near = (p) => p && Math.hypot(p[0] - place[0], p[1] - place[1]) * this.does.scale() < CLOSE_PX;
    if (this.way === "corners" && corners.length > 2 && (near(corners[0]) || near(corners.at(-1)))) {
      this.corners = [];
      await this.does.make(corners, this.kind);
    } else if (!near(corners.at(-1))) {
      corners.push(place);
      if (this.way === "box" && corners.length === 2) {
        const [[ax, ay], [bx, by]] = corners;
        this.corners = [];
        if (this.kind === "crop") await this.does.crop([ax, ay, bx, by]);
        else await this.does.make([[ax, ay], [bx, ay], [bx, by], [ax, by]], this.kind);
      } else if (this.way === "round" && corners.length === 2) {
        this.corners = [];
        await this.does.make(roundOf(...corners), this.kind);
      } else if (this.way === "length" && corners.length === 2) {
        this.does.measured([...corners]);
      } else if (this.way === "length" && corners.length > 2) {
        this.corners = [place];
        this.does.measured(null);
      }
    }
    this.#tell();
    this.does.show();
  }

  #tell() {
    if (this.takesLines) {
      const { bound } = this;
      this.does.tell(!bound ? "Move over a line: the wall that it would bound lights up"
        : bound.outlines.length > 1 ? `A click parts the wall: ${bound.sizes.join(" and ")}` : `A click makes the wall end here: ${bound.sizes[0] ?? "as it is"}`);
      return;
    }
    if (this.way !== "outline") {
      const [first, next] = ASKS[this.way];
      const last = this.way === "length" && this.corners.length === 2 ? "Now say how long that is" : next;
      const snapped = this.snap ? ` (at ${this.snap.what === "end" ? "an end" : `a ${this.snap.what}`})` : "";
      this.does.tell(`${this.corners.length ? last : first}${snapped}`);
      return;
    }
    const outline = this.outlines[this.nest];
    if (!outline) { this.does.tell("Move over the drawing: the outline under the pointer lights up"); return; }
    const of = this.outlines.length > 1 ? `, outline ${this.nest + 1} of ${this.outlines.length}` : "";
    const kind = this.kind === "fits" ? outline.fits : this.kind;
    const word = NAMES[kind] ?? kind;
    if (outline.is === kind) { this.does.tell(`${outline.size}${of}: this is a ${word}`); return; }
    const becomes = { nothing: "takes away what is marked here", part: "adds it to the wall beside it" }[kind]
      ?? `makes it a ${word}`;
    this.does.tell(`${outline.size}${of}: a click ${becomes}`);
  }
}
