// The hand on the sheet: mouse, fingers and keys, made into pan, zoom, hover and points.

const TAP_PX = 5;
const STEP_PX = 24;

export class Hand {
  // on: pan(dx, dy), zoom(factor, x, y), hover(x, y), point(x, y, isTouch), nest(by), again(), all(),
  // clear(), become(number)
  constructor(glass, on) {
    this.glass = glass;
    this.on = on;
    this.down = new Map();
    this.moved = false;
    glass.addEventListener("pointerdown", (e) => this.#press(e));
    glass.addEventListener("pointermove", (e) => this.#move(e));
    glass.addEventListener("pointerup", (e) => this.#release(e, true));
    glass.addEventListener("pointercancel", (e) => this.#release(e, false));
    glass.addEventListener("pointerleave", () => { if (!this.down.size) this.on.leave(); });
    glass.addEventListener("wheel", (e) => this.#wheel(e), { passive: false });
    glass.addEventListener("keydown", (e) => this.#key(e));
    // keys on the drawing work where the mouse is, unless a person types elsewhere
    glass.addEventListener("pointerenter", () => {
      if (document.activeElement !== document.body) return;
      glass.classList.add("by-mouse");
      glass.focus({ preventScroll: true });
    });
    for (const ends of ["blur", "keydown"]) glass.addEventListener(ends, () => glass.classList.remove("by-mouse"));
    glass.addEventListener("blur", () => this.on.leave());
    this.cross = null;
  }

  #at(event) {
    const box = this.glass.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  #press(event) {
    if (event.button > 1) return;
    this.glass.setPointerCapture(event.pointerId);
    this.cross = null;
    if (!this.down.size) { this.moved = false; this.start = this.#at(event); }
    else this.moved = this.many = true;
    if (!this.down.size) this.many = false;
    this.down.set(event.pointerId, this.#at(event));
  }

  #move(event) {
    const at = this.#at(event), before = this.down.get(event.pointerId);
    if (!before) { this.on.hover(...at, event.shiftKey); return; }
    if (!this.moved && Math.hypot(at[0] - this.start[0], at[1] - this.start[1]) < TAP_PX) return;
    this.moved = true;
    this.glass.classList.add("moving");
    if (this.drags?.() && this.down.size === 1) { this.on.hover(...at); this.down.set(event.pointerId, at); return; }
    const others = [...this.down].filter(([id]) => id !== event.pointerId).map(([, place]) => place);
    if (others.length) {
      const [ox, oy] = others[0];
      const was = Math.hypot(before[0] - ox, before[1] - oy), is = Math.hypot(at[0] - ox, at[1] - oy);
      if (was > 1) this.on.zoom(is / was, (at[0] + ox) / 2, (at[1] + oy) / 2);
      this.on.pan((at[0] - before[0]) / 2, (at[1] - before[1]) / 2);
    } else this.on.pan(at[0] - before[0], at[1] - before[1]);
    this.down.set(event.pointerId, at);
  }

  #release(event, counts) {
    if (!this.down.delete(event.pointerId)) return;
    if (this.down.size) return;
    this.glass.classList.remove("moving");
    if (!counts || event.button !== 0) return;
    if (!this.moved) this.on.point(...this.#at(event), event.pointerType === "touch", event.shiftKey);
    else if (this.drags?.() && !this.many) this.on.drag(this.start, this.#at(event));
  }

  #wheel(event) {
    event.preventDefault();
    if (event.altKey) this.on.nest(event.deltaY + event.deltaX < 0 ? 1 : -1);
    else this.on.zoom(Math.exp(-Math.max(-120, Math.min(120, event.deltaY)) / 300), ...this.#at(event));
  }

  #key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const box = this.glass.getBoundingClientRect();
    const step = event.shiftKey ? 2 : STEP_PX;
    const by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[event.key];
    if (by) this.#cross(by, box);
    else if (event.key === "Enter") this.on.point(...(this.cross ??= [box.width / 2, box.height / 2]), false, event.shiftKey);
    else if (event.key === "Delete") this.on.clear();
    else if (/^[1-9]$/.test(event.key)) this.on.become(Number(event.key));
    else if (event.key === "PageUp") this.on.nest(1);
    else if (event.key === "PageDown") this.on.nest(-1);
    else if (event.key === "+" || event.key === "=") this.on.zoom(1.3, ...(this.cross ?? [box.width / 2, box.height / 2]));
    else if (event.key === "-") this.on.zoom(1 / 1.3, ...(this.cross ?? [box.width / 2, box.height / 2]));
    else if (event.key === "Home") this.on.all();
    else if (event.key === "Escape") this.on.again();
    else return;
    event.preventDefault();
  }

  // Move the cross; at the rim the drawing moves under it.
  #cross([dx, dy], box) {
    const [x, y] = this.cross ?? [box.width / 2, box.height / 2];
    const nx = Math.max(12, Math.min(box.width - 12, x + dx)), ny = Math.max(12, Math.min(box.height - 12, y + dy));
    if (nx !== x + dx || ny !== y + dy) this.on.pan(nx - x - dx, ny - y - dy);
    this.cross = [nx, ny];
    this.on.hover(nx, ny);
  }
}
