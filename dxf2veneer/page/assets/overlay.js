// Walls, openings, views and what is pointed at, over the drawing's lines.

const NAMESPACE = "http://www.w3.org/2000/svg";
// a tint and a pattern for each kind: colors that color-blind eyes tell apart, and lines beside them
export const KINDS = {
  wall: ["#56B4E9", "M0 8 L8 0", 0.12],
  window: ["#E69F00", "M0 4 H8 M4 0 V8", 0.3],
  door: ["#009E73", "M4 0 V8", 0.3],
  garage: ["#0072B2", "M0 0 L4 8 L8 0", 0.3],
  vent: ["#D55E00", "M0 0 L8 8 M0 8 L8 0", 0.3],
  fixture: ["#CC79A7", "M0 4 H8", 0.3],
};

// what a kind is called, where that is another word
export const NAMES = { garage: "garage door" };

// letters beside the colors of marked edges
const LETTERS = { outside: "OC", inside: "IC", bay: "BAY", end: "END", butt: "PLAIN", cap: "CAP", level: "LEVEL" };

export function element(name, attributes = {}, ...content) {
  const made = document.createElementNS(NAMESPACE, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...content);
  return made;
}

function patterns() {
  return element("defs", {}, ...Object.entries(KINDS).map(([kind, [tint, path, depth]]) =>
    element("pattern", { id: `of-${kind}`, width: 8, height: 8, patternUnits: "userSpaceOnUse" },
      element("rect", { width: 8, height: 8, fill: tint, "fill-opacity": depth }),
      element("path", { d: path, stroke: tint, "stroke-width": 0.8, fill: "none" }))),
    element("pattern", { id: "of-sliver", width: 6, height: 6, patternUnits: "userSpaceOnUse" },
      element("path", { d: "M0 6 L6 0 M0 0 L6 6", class: "sliver-hatch" })));
}

export class Overlay {
  constructor(svg) { this.svg = svg; this.svg.append(patterns(), element("g")); }

  // What is shown: state and figures of the command, and what is under the pointer.
  draw(camera, { state, origin, figures, lit, under, pointedLine, courses, corners, snap, cross }) {
    const at = ([x, y]) => camera.toScreen(x - origin[0], y - origin[1]);
    const path = (points) => points.map((p) => at(p).map((v) => v.toFixed(1)).join(",")).join(" ");
    const group = element("g");
    for (const view of state.views) group.append(...this.#view(view, at));
    const tags = [];
    for (const mark of [...state.marks].sort((a, b) => (b.kind === "wall") - (a.kind === "wall"))) {
      const classes = ["mark"];
      if (mark.id === lit) classes.push("lit-mark");
      if (state.doubts.some((d) => d.mark === mark.id)) classes.push("unsure");
      group.append(element("polygon", {
        points: path(mark.outline), class: classes.join(" "),
        fill: `url(#of-${mark.kind})`, stroke: KINDS[mark.kind][0],
      }));
      tags.push(this.#tag(mark, at, figures));
    }
    for (const line of state.lines) {
      const [a, b] = line.points.map(at);
      group.append(element("path", { class: `edge edge-${line.kind}`, d: `M${a.join(" ")}L${b.join(" ")}` }));
      const text = [LETTERS[line.kind], line.tag].filter(Boolean).join(" ");
      const place = { x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2 + 5, class: "tag" };
      tags.push(element("text", place, text));
    }
    for (const wall of figures.others) {
      group.append(element("polygon", { points: path(wall.outline), class: "mark layer-wall", fill: "none", stroke: KINDS.wall[0] }));
    }
    for (const [x0, y0, x1, y1] of state.windows) {
      group.append(element("polygon", { points: path([[x0, y0], [x1, y0], [x1, y1], [x0, y1]]), class: "crop" }));
    }
    for (const wall of courses?.walls ?? []) group.append(...this.#courses(wall, at, path));
    group.append(...tags.filter(Boolean));
    for (const outline of under) group.append(element("polygon", { points: path(outline), class: "under" }));
    if (pointedLine) group.append(element("polyline", { points: path(pointedLine), class: "pointed-line" }));
    if (corners?.length) {
      group.append(element("polyline", { points: path(corners), class: "drawn" }));
      for (const corner of corners) {
        const [x, y] = at(corner);
        group.append(element("circle", { cx: x, cy: y, r: 4, class: "drawn" }));
      }
    }
    if (snap) group.append(this.#snap(snap, at(snap.at)));
    if (cross) {
      const [x, y] = cross;
      group.append(element("path", { class: "cross", d: `M${x - 14} ${y}h28M${x} ${y - 14}v28` }));
    }
    this.svg.lastElementChild.replaceWith(group);
  }

  #view(view, at) {
    const [x, y] = at([view.box[0], view.box[3]]), [x1, y1] = at([view.box[2], view.box[1]]);
    const box = { x, y, width: Math.max(x1 - x, 0), height: Math.max(y1 - y, 0) };
    const looked = view.looked_at ? " looked" : "";
    const title = [view.id, view.kind, view.title, view.looked_at ? "✓" : ""].filter(Boolean).join(" ");
    return [
      element("rect", { ...box, class: `view-box${looked}` }),
      // at the right rim a title runs to the left
      x + 9 * title.length > this.svg.clientWidth && x < this.svg.clientWidth
        ? element("text", { x: Math.min(x1, this.svg.clientWidth - 4), y: y - 5, class: "view-title", "text-anchor": "end" }, title)
        : element("text", { x: x + 2, y: y - 5, class: "view-title" }, title),
    ];
  }

  // The number of a wall stands in its upper left corner, that of an opening in its middle.
  #tag(mark, at, figures) {
    const [x0, y0, x1, y1] = mark.box;
    const [left, top] = at([x0, y1]), [right, bottom] = at([x1, y0]);
    if (right - left < 26 || bottom - top < 12) return null;
    const name = numberOf(mark, figures, { whole: right - left > 64 });
    const place = mark.kind === "wall"
      ? { x: left + 8, y: top + 17, style: "" } : { x: (left + right) / 2, y: (top + bottom) / 2 + 5 };
    delete place.style;
    const tag = element("text", { ...place, class: "tag" }, name);
    if (mark.kind === "wall") tag.setAttribute("text-anchor", "start");
    return tag;
  }

  #courses(wall, at, path) {
    const line = (ends) => `M${at(ends.slice(0, 2)).join(" ")}L${at(ends.slice(2)).join(" ")}`;
    const made = [element("path", { class: "course", d: wall.lines.map(line).join("") || "M0 0" }),
      element("path", { class: "starter", d: wall.starter.map(line).join("") || "M0 0" })];
    for (const { box: [x0, y0, x1, y1] } of wall.slivers) {
      const [x, y] = at([(x0 + x1) / 2, y1]);
      made.push(element("polygon", { points: path([[x0, y0], [x1, y0], [x1, y1], [x0, y1]]), class: "sliver", fill: "url(#of-sliver)" }),
        element("text", { x, y: y - 3, class: "tag sliver-text" }, "sliver"));
    }
    return made;
  }

  #snap(snap, [x, y]) {
    if (snap.what === "end") return element("rect", { x: x - 6, y: y - 6, width: 12, height: 12, class: "snap" });
    if (snap.what === "crossing") return element("path", { d: `M${x - 7} ${y - 7}l14 14m0 -14l-14 14`, class: "snap" });
    return element("circle", { cx: x, cy: y, r: 6, class: "snap" });
  }
}

// An opening's number is whole, such as W2-O1, where its wall does not stand beside it.
export function numberOf(mark, figures, { whole = false } = {}) {
  const measured = (mark.kind === "wall" ? figures.walls : figures.openings)[mark.id];
  return measured ? (whole ? measured.id : measured.id.replace(/^W\d+-/, "")) : mark.kind;
}
