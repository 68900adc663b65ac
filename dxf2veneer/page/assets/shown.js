// Which elevations have been on the sheet, large enough to be looked at: nobody can have looked at
// another one.

const WORTH_PX = 24;

// Views that hold walls, and walls outside every view, each as a key and a box.
function places(state) {
  const views = state.views.filter((v) => v.has_walls);
  const loose = state.marks.filter((m) => m.kind === "wall" && !views.some((v) => v.id === m.view));
  return [...views.map((v) => [v.id, v.box]), ...loose.map((m) => [`wall ${m.id}`, m.box])];
}

export class Shown {
  constructor() { this.keys = new Set(); }

  forget() { this.keys.clear(); }

  // Notices what the sheet shows now; true where that is something new.
  notice(state, camera, [ox, oy]) {
    const before = this.keys.size;
    for (const [key, [x0, y0, x1, y1]] of places(state)) {
      if (Math.max(x1 - x0, y1 - y0) * camera.scale < WORTH_PX) continue;
      const [x, y] = camera.toScreen((x0 + x1) / 2 - ox, (y0 + y1) / 2 - oy);
      if (x >= 0 && y >= 0 && x <= camera.wide && y <= camera.high) this.keys.add(key);
    }
    return this.keys.size !== before;
  }

  // Boxes of what has not been on the sheet.
  without(state) { return places(state).filter(([key]) => !this.keys.has(key)).map(([, box]) => box); }
}
