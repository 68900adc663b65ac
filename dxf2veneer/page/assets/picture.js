// The drawing's lines on a canvas. A picture that takes long is drawn in slices on a second canvas
// while the last one is shown moved and scaled, so that the sheet follows the hand at once.

import { drawHatches } from "./hatching.js";

const SLICE_MS = 4;       // a quarter of the time between two frames of the screen
const BATCH = 800;        // pieces of line stroked together
const LEAST_PX = 0.6;     // what is smaller is not drawn
const LEAST_TEXT_PX = 4.5;
const EM = 1 / 0.72;      // height of a letter's room for the height of capitals

export class Picture {
  constructor(canvas) {
    this.canvas = canvas;
    this.back = document.createElement("canvas");
    this.backCamera = null;
    this.hidden = new Set();
    this.data = null;
    this.work = null;
    this.whenDone = [];
  }

  setData(data) { this.data = data; this.backCamera = null; }

  // Show what there is of the picture at once, and begin to draw it anew.
  draw(camera) {
    this.camera = camera.copy();
    this.#fit(this.canvas);
    this.#show();
    this.wanted = true;
    if (!this.work) this.#begin();
  }

  done() {
    if (!this.work && !this.wanted) return Promise.resolve();
    return new Promise((ready) => this.whenDone.push(ready));
  }

  #fit(canvas) {
    const ratio = window.devicePixelRatio || 1;
    const wide = Math.round(this.camera.wide * ratio), high = Math.round(this.camera.high * ratio);
    if (canvas.width !== wide || canvas.height !== high) { canvas.width = wide; canvas.height = high; }
  }

  #show() {
    const context = this.canvas.getContext("2d");
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.clearRect(0, 0, this.canvas.width, this.canvas.height);
    const old = this.backCamera;
    if (!old) return;
    const ratio = window.devicePixelRatio || 1, factor = this.camera.scale / old.scale;
    const [x, y] = this.camera.toScreen(...old.toDrawing(0, 0));
    context.drawImage(
      this.back, x * ratio, y * ratio, this.back.width * factor, this.back.height * factor,
    );
  }

  #begin() {
    if (!this.data) return;
    this.wanted = false;
    const camera = this.camera.copy();
    const canvas = document.createElement("canvas");
    this.#fit(canvas);
    const context = canvas.getContext("2d");
    const ratio = window.devicePixelRatio || 1;
    const ink = getComputedStyle(this.canvas).getPropertyValue("--drawn");
    context.scale(ratio, ratio);
    context.lineWidth = 1;
    context.strokeStyle = context.fillStyle = ink;
    context.globalAlpha = 0.85;
    this.work = this.#pieces(context, camera);
    const step = () => {
      const end = performance.now() + SLICE_MS;
      while (performance.now() < end) {
        if (!this.work.next().done) continue;
        this.work = null;
        this.back = canvas;
        this.backCamera = camera;
        this.#show();
        if (this.wanted) this.#begin();
        else this.whenDone.splice(0).forEach((ready) => ready());
        return;
      }
      setTimeout(step);
    };
    setTimeout(step); // not in the frame that shows the hand's step
  }

  // Strokes batch after batch; yields between two.
  *#pieces(context, camera) {
    const { segments, first, boxes, layer } = this.data;
    const [x0, y1] = camera.toDrawing(0, 0), [x1, y0] = camera.toDrawing(camera.wide, camera.high);
    const k = camera.scale, ox = camera.wide / 2 - camera.x * k, oy = camera.high / 2 + camera.y * k;
    const hidden = this.data.layers.map((_, i) => this.hidden.has(i));
    yield* drawHatches(context, camera, this.data.hatches, [x0, y0, x1, y1], hidden);
    const least = LEAST_PX / k;
    let count = 0, px = NaN, py = NaN;
    context.beginPath();
    for (let e = 0; e < layer.length; e++) {
      const b = 4 * e;
      const w = boxes[b + 2] - boxes[b], h = boxes[b + 3] - boxes[b + 1];
      if (w < least && h < least) break; // they come by falling size
      if (boxes[b] > x1 || boxes[b + 2] < x0 || boxes[b + 1] > y1 || boxes[b + 3] < y0) continue;
      if (hidden[layer[e]]) continue;
      for (let s = 4 * first[e]; s < 4 * first[e + 1]; s += 4) {
        const ax = segments[s], ay = segments[s + 1];
        if (ax !== px || ay !== py) context.moveTo(ox + ax * k, oy - ay * k);
        px = segments[s + 2]; py = segments[s + 3];
        context.lineTo(ox + px * k, oy - py * k);
        count++;
      }
      if (count >= BATCH) {
        context.stroke();
        context.beginPath();
        count = 0; px = NaN;
        yield;
      }
    }
    context.stroke();
    yield* this.#dimensions(context, camera, [x0, y0, x1, y1], hidden);
    yield* this.#texts(context, camera, [x0, y0, x1, y1], hidden);
  }

  // A line with strokes at its ends, and over it what is written.
  *#dimensions(context, camera, [x0, y0, x1, y1], hidden) {
    let count = 0;
    for (const [layer, text, height, points] of this.data.dimensions) {
      const xs = points.map(([x]) => x), ys = points.map(([, y]) => y);
      if (hidden[layer] || Math.min(...xs) > x1 || Math.max(...xs) < x0 || Math.min(...ys) > y1 || Math.max(...ys) < y0) continue;
      const places = points.map(([x, y]) => camera.toScreen(x, y));
      const [a, b] = places.length === 4 ? places.slice(1, 3) : places;
      if (Math.hypot(b[0] - a[0], b[1] - a[1]) < LEAST_TEXT_PX) continue;
      const size = height * camera.scale * EM, stroke = Math.min(Math.max(size / 3, 2), 6);
      context.beginPath();
      places.forEach((place, i) => context[i ? "lineTo" : "moveTo"](...place));
      for (const [x, y] of [a, b]) { context.moveTo(x - stroke, y + stroke); context.lineTo(x + stroke, y - stroke); }
      context.stroke();
      if (size >= LEAST_TEXT_PX) {
        const [from, to] = a[0] < b[0] || (a[0] === b[0] && a[1] > b[1]) ? [a, b] : [b, a];
        context.save();
        context.translate((from[0] + to[0]) / 2, (from[1] + to[1]) / 2);
        context.rotate(Math.atan2(to[1] - from[1], to[0] - from[0]));
        context.font = `${size}px system-ui, sans-serif`;
        context.textAlign = "center";
        context.fillText(text, 0, -size / 5);
        context.restore();
      }
      if (++count % 200 === 0) yield;
    }
  }

  *#texts(context, camera, [x0, y0, x1, y1], hidden) {
    let count = 0;
    for (const [text, x, y, height, rotation, layer, box] of this.data.texts) {
      const size = height * camera.scale * EM;
      if (size < LEAST_TEXT_PX || hidden[layer]) continue;
      if (box[0] > x1 || box[2] < x0 || box[1] > y1 || box[3] < y0) continue;
      const [sx, sy] = camera.toScreen(box[0], box[1]);
      context.save();
      if (rotation % 360) {
        context.translate(...camera.toScreen(x, y));
        context.rotate((-rotation * Math.PI) / 180);
      } else context.translate(sx, sy);
      context.font = `${size}px system-ui, sans-serif`;
      const room = Math.max(box[2] - box[0], box[3] - box[1]) * camera.scale;
      context.fillText(text, 0, 0, Math.max(room, 1));
      context.restore();
      if (++count % 200 === 0) yield;
    }
  }
}
