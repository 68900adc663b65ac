// Hatches on the picture: solid ones as a tint, patterns as lines of their angles and distances.

const LEAST_HATCH_PX = 6;   // what is smaller is not drawn
const LEAST_GAP_PX = 3;     // lines nearer to each other are a tint
const MOST_LINES = 1500;    // lines of one family in one hatch
const TINT = 0.14;
const PATTERN = 0.5;

// Draws hatches one by one; yields between two.
export function* drawHatches(context, camera, hatches, view, hidden) {
  for (const [layer, solid, box, loops, families] of hatches) {
    const size = Math.max(box[2] - box[0], box[3] - box[1]) * camera.scale;
    if (size < LEAST_HATCH_PX) break; // they come by falling size
    if (hidden[layer] || box[0] > view[2] || box[2] < view[0] || box[1] > view[3] || box[3] < view[1]) continue;
    context.save();
    context.beginPath();
    for (const loop of loops) {
      loop.forEach(([x, y], i) => context[i ? "lineTo" : "moveTo"](...camera.toScreen(x, y)));
      context.closePath();
    }
    const lines = solid ? [] : families.filter(([, gap]) => gap * camera.scale >= LEAST_GAP_PX);
    if (lines.length) {
      context.clip("evenodd");
      context.globalAlpha = PATTERN;
      context.lineWidth = 0.7;
      const part = [0, 1, 2, 3].map((i) => Math[i < 2 ? "max" : "min"](box[i], view[i]));
      for (const [angle, gap, isDashed] of lines) {
        context.setLineDash(isDashed ? [gap * camera.scale, gap * camera.scale] : []);
        drawFamily(context, camera, part, angle, gap);
      }
    } else {
      context.globalAlpha = TINT;
      context.fill("evenodd");
    }
    context.restore();
    yield;
  }
}

// Parallel lines over a box. They are counted from the origin, so that they keep their places.
function drawFamily(context, camera, [x0, y0, x1, y1], angle, gap) {
  const turn = (angle * Math.PI) / 180, dx = Math.cos(turn), dy = Math.sin(turn);
  const corners = [[x0, y0], [x1, y0], [x1, y1], [x0, y1]];
  const across = corners.map(([x, y]) => y * dx - x * dy), along = corners.map(([x, y]) => x * dx + y * dy);
  const first = Math.ceil(Math.min(...across) / gap), last = Math.floor(Math.max(...across) / gap);
  if (last - first > MOST_LINES) return;
  const [start, end] = [Math.min(...along), Math.max(...along)];
  context.beginPath();
  for (let n = first; n <= last; n++) {
    const ox = -dy * n * gap, oy = dx * n * gap;
    context.moveTo(...camera.toScreen(ox + dx * start, oy + dy * start));
    context.lineTo(...camera.toScreen(ox + dx * end, oy + dy * end));
  }
  context.stroke();
}
