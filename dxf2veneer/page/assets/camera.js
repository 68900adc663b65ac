// Which part of the drawing the sheet shows. Coordinates are the drawing's own, less its origin.

export class Camera {
  constructor() { this.x = 0; this.y = 0; this.scale = 1; this.wide = 1; this.high = 1; }

  copy() { return Object.assign(new Camera(), this); }

  toScreen(x, y) {
    return [(x - this.x) * this.scale + this.wide / 2, this.high / 2 - (y - this.y) * this.scale];
  }

  toDrawing(sx, sy) {
    return [(sx - this.wide / 2) / this.scale + this.x, (this.high / 2 - sy) / this.scale + this.y];
  }

  // Show a box, with a margin as a share of the sheet.
  show([x0, y0, x1, y1], margin = 0.06) {
    const room = 1 - 2 * margin;
    const wide = Math.max(x1 - x0, 1e-9), high = Math.max(y1 - y0, 1e-9);
    this.scale = Math.min((this.wide * room) / wide, (this.high * room) / high);
    this.x = (x0 + x1) / 2;
    this.y = (y0 + y1) / 2;
  }

  // Zoom so that the place under a point of the screen stays there.
  zoom(factor, sx = this.wide / 2, sy = this.high / 2) {
    const [x, y] = this.toDrawing(sx, sy);
    this.scale *= factor;
    const [nx, ny] = this.toDrawing(sx, sy);
    this.x += x - nx;
    this.y += y - ny;
  }

  move(dx, dy) { this.x -= dx / this.scale; this.y += dy / this.scale; }
}
