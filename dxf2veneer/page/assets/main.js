// The page: it shows the drawing and the marks, and tells the command what is pointed at.

import { Camera } from "./camera.js";
import { Courses } from "./courses.js";
import { Hand } from "./hand.js";
import { NAMES, Overlay } from "./overlay.js";
import { Picture } from "./picture.js";
import { Pointing } from "./pointing.js";
import { change, isKept, read, readBytes } from "./talk.js";
import { Shown } from "./shown.js";
import { Taken } from "./taken.js";
import { Tally } from "./tally.js";
import { unpack } from "./unpack.js";

const POLL_MS = 2000;
const LOOKING_MS = 300;   // while the command still looks for walls
const byId = (id) => document.getElementById(id);

const camera = new Camera();
const picture = new Picture(byId("picture"));
const overlay = new Overlay(byId("marks"));
const shown = new Shown();
const NOTHING = { walls: {}, openings: {}, others: [], totals: null, doubts: [], problem: "", revision: 0 };

let state = null;
let figures = NOTHING;
let lines = null;
let lit = null;
let measuring = false;
let ends = null;
let frame = 0;
let hasMoved = false;     // whether a person has chosen what the sheet shows

const pointing = new Pointing({
  toDrawing: (x, y) => { const [a, b] = camera.toDrawing(x, y); return [a + lines.origin[0], b + lines.origin[1]]; },
  scale: () => camera.scale,
  make: (outline, kind) => edit({ do: "make", outline, kind }),
  bound: (line, at, how) => edit({ do: "bound", line, at, how }),
  crop: (box) => edit({ do: "crop", box }),
  mark: (at, kind, reach) => edit({ do: "line", at, kind, reach }),
  measured: (points) => {
    ends = points;
    byId("length").hidden = !points;
    if (points) byId("length-text").focus();
  },
  show: () => redraw(false),
  tell: (text) => {
    if (byId("readout").textContent !== text) byId("readout").textContent = text;
    if (state && hand.cross) byId("said").textContent = text; // read out while keys move the cross
  },
  say,
});

const hand = new Hand(byId("glass"), {
  pan: (dx, dy) => { camera.move(dx, dy); moved(); },
  zoom: (factor, x, y) => { camera.zoom(factor, x, y); moved(); },
  hover: (x, y, shift = false) => { pointing.shift = shift; pointing.hover(x, y).catch(() => {}); redraw(false); },
  leave: () => { hand.cross = null; pointing.leave(); },
  point: (x, y, isTouch, shift = false) => {
    pointing.shift = shift;
    return pointing.point(x, y, isTouch).catch((error) => say(error.message));
  },
  drag: (from, to) => pointing.drag(from, to).catch((error) => say(error.message)),
  clear: () => pointing.clear().catch((error) => say(error.message)),
  become: (number) => {
    const choice = document.querySelectorAll("#kinds input")[number - 1];
    if (pointing.under.length && !pointing.takesLines) pointing.become(choice.value).catch((error) => say(error.message));
    else choice.click();
  },
  nest: (by) => pointing.larger(by),
  again: () => { pointing.begin(); ends = null; byId("length").hidden = true; redraw(false); },
  all: () => goTo(lines.box, 0.03),
});

hand.drags = () => pointing.way === "box";
const courses = new Courses({ goTo, show: () => redraw(false) });

const tally = new Tally({
  edit,
  unseen: () => (lines ? shown.without(state) : []),
  goTo,
  goNear: ([x, y]) => {
    const wide = Math.max(lines.box[2] - lines.box[0], lines.box[3] - lines.box[1]) / 20;
    goTo([x - wide, y - wide, x + wide, y + wide]);
  },
  light: (id) => {
    if (lit === id) return;
    lit = id;
    redraw(false);
  },
});

const taken = new Taken(say);

function say(text) {
  byId("said").textContent = text;
  byId("readout").textContent = text;
}

function goTo(box, margin = 0.08) {
  look(box, margin);
  moved();
}

function look([x0, y0, x1, y1], margin) {
  const [ox, oy] = lines.origin;
  camera.show([x0 - ox, y0 - oy, x1 - ox, y1 - oy], margin);
}

function moved() { hasMoved = true; redraw(); }

// What the sheet shows first: the elevations where there are any.
function lookAtElevations() { look(firstBox(), 0.06); redraw(); }

// Once for each frame of the screen, however much happens between two.
function redraw(withLines = true) {
  frame |= withLines ? 3 : 1;
  if (redraw.asked) return;
  redraw.asked = true;
  requestAnimationFrame(() => {
    redraw.asked = false;
    if (lines && frame & 2) picture.draw(camera);
    frame = 0;
    if (!state || !lines) return;
    if (shown.notice(state, camera, lines.origin)) tally.draw(state, figures);
    overlay.draw(camera, {
      state, figures, lit, origin: lines.origin, under: pointing.under, pointedLine: pointing.pointedLine, courses: courses.shown, corners: pointing.trail,
      snap: pointing.snap, cross: hand.cross,
    });
  });
}

function resize() {
  const box = byId("sheet").getBoundingClientRect();
  camera.wide = box.width;
  camera.high = box.height;
  redraw();
}

// ------------------------------------------------------------------ changes

async function edit(asked) {
  const before = state;
  try {
    await took(await change("edit", asked), before);
  } catch (error) {
    say(error.message);
    tally.draw(state, figures);
  }
}

async function step(path) {
  try {
    await took(await change(path), state);
  } catch (error) { say(error.message); }
}

async function took(next, before) {
  show(next);
  await measure();
  say(told(before, next));
}

function told(before, next) {
  const was = new Map(before.marks.map((m) => [m.id, m]));
  const is = new Map(next.marks.map((m) => [m.id, m]));
  const made = next.marks.filter((m) => !was.has(m.id)), gone = before.marks.filter((m) => !is.has(m.id));
  const parts = [];
  if (made.length) {
    parts.push(`${made.map((m) => `${NAMES[m.kind] ?? m.kind}${sizeOf(m)}`).join(", ")} made`);
  } else if (gone.length) parts.push(`${gone.map((m) => m.kind).join(", ")} taken out`);
  else if (next.revision !== before.revision) parts.push("Done");
  if (figures.totals) parts.push(`net ${figures.totals.net}`);
  return parts.join("; ");
}

function sizeOf(mark) {
  const measured = (mark.kind === "wall" ? figures.walls : figures.openings)[mark.id];
  return measured ? ` ${measured.size}` : "";
}

function show(next) {
  const first = state === null, other = state && state.sha256 !== next.sha256;
  state = next;
  document.title = byId("title").textContent = `${state.drawing}: walls and openings`;
  byId("kept").textContent = state.trouble ? "Not saved" : state.saved ? `Saved in ${state.job_file}` : `Nothing to save yet in ${state.job_file}`;
  byId("undo").disabled = !state.undo;
  byId("redo").disabled = !state.redo;
  byId("looking").hidden = !state.looking;
  byId("looking").textContent = state.looking ? `${state.looking} …` : "";
  trouble();
  taken.draw(state.revision);
  courses.follow(state.revision);
  tally.draw(state, figures);
  redraw(false);
  if (!first && other) { shown.forget(); reload(); }
}

function trouble() {
  const place = byId("trouble");
  place.hidden = !state.trouble;
  if (!state.trouble) { place.replaceChildren(); return; }
  const text = document.createElement("p");
  text.textContent = state.trouble;
  const choice = document.createElement("p");
  for (const [label, mine] of [["Keep my clicks", true], ["Take the file", false]]) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = label;
    button.addEventListener("click", async () => show(await change("settle", { mine })));
    choice.append(button, " ");
  }
  place.replaceChildren(text, choice);
}

// Numbers for the marks as they are; asked again where they changed meanwhile.
async function measure() {
  if (measuring) { measure.again = true; return; }
  measuring = true;
  try {
    do {
      measure.again = false;
      figures = await read("figures");
    } while (measure.again || (!isKept && figures.revision < state.revision));
    tally.draw(state, figures);
    redraw(false);
  } finally { measuring = false; }
}

async function reload() {
  lines = unpack(await readBytes("drawing"));
  picture.setData(lines);
  listLayers();
  redraw();
}

// The command has looked at the drawing: say what it found, and show it unless a person looks
// elsewhere.
function found() {
  if (!hasMoved) lookAtElevations();
  const count = (what, n) => `${n} ${what}${n === 1 ? "" : "s"}`;
  const walls = state.marks.filter((m) => m.kind === "wall").length;
  say([count("elevation", state.views.filter((v) => v.kind === "elevation").length), count("wall", walls),
    count("opening", state.marks.length - walls)].join(", "));
}

async function poll() {
  try {
    const next = await read("state");
    if (next.revision !== state.revision) {
      const wasLooking = state.looking;
      show(next);
      if (wasLooking && !next.looking) found();
      await measure();
    }
  } catch { /* the page says that the command has ended */ }
  setTimeout(poll, state.looking ? LOOKING_MS : POLL_MS);
}

// ------------------------------------------------------------------- wiring

function listLayers() {
  const rows = lines.layers.map((name, i) => {
    const label = document.createElement("label"), box = document.createElement("input");
    box.type = "checkbox";
    box.checked = !picture.hidden.has(i);
    box.addEventListener("change", () => {
      if (box.checked) picture.hidden.delete(i); else picture.hidden.add(i);
      redraw();
    });
    label.append(box, ` ${name}`);
    return label;
  });
  byId("layer-list").replaceChildren(...rows);
}

function wire() {
  byId("undo").addEventListener("click", () => step("undo"));
  byId("redo").addEventListener("click", () => step("redo"));
  byId("zoom-in").addEventListener("click", () => { camera.zoom(1.4); moved(); });
  byId("zoom-out").addEventListener("click", () => { camera.zoom(1 / 1.4); moved(); });
  byId("zoom-all").addEventListener("click", () => goTo(lines.box, 0.03));
  byId("larger").addEventListener("click", () => pointing.larger(1));
  byId("smaller").addEventListener("click", () => pointing.larger(-1));
  byId("help-open").addEventListener("click", () => byId("help").showModal());
  byId("layers-open").addEventListener("click", (event) => {
    const list = byId("layer-list");
    list.hidden = !list.hidden;
    event.currentTarget.setAttribute("aria-expanded", String(!list.hidden));
  });
  byId("ways").addEventListener("change", (event) => {
    pointing.setWay(event.target.value);
    ends = null;
    byId("length").hidden = true;
    document.querySelector(".nest").hidden = event.target.value !== "outline";
    byId("kinds").hidden = ["length", "edge", "line"].includes(event.target.value);
    byId("hows").hidden = event.target.value !== "line";
    byId("crop-kind").hidden = event.target.value !== "box";
    if (byId("crop-kind").hidden && pointing.kind === "crop") document.querySelector("input[name=kind]").click();
    byId("line-kinds").hidden = event.target.value !== "edge";
  });
  byId("line-kinds").addEventListener("change", (event) => { pointing.line = event.target.value; });
  byId("hows").addEventListener("change", (event) => { pointing.how = event.target.value; });
  byId("kinds").addEventListener("change", (event) => pointing.setKind(event.target.value));
  byId("length").addEventListener("submit", async (event) => {
    event.preventDefault();
    await edit({ do: "unit", points: ends, length: byId("length-text").value });
  });
  document.addEventListener("keydown", (event) => {
    if (isKept || !(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
    if (event.target.matches("input:not([type=radio]):not([type=checkbox]), textarea")) return;
    event.preventDefault();
    step(event.shiftKey ? "redo" : "undo");
  });
  new ResizeObserver(resize).observe(byId("sheet"));
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => redraw());
}

function showKept() {
  document.body.classList.add("kept-page");
  byId("kept").textContent = "A page to look at: it changes nothing";
  byId("job-text").hidden = false;
  const text = byId("job-text").querySelector("textarea");
  text.value = JSON.parse(byId("kept-job").textContent);
  byId("copy").addEventListener("click", () => { text.select(); navigator.clipboard?.writeText(text.value); });
}

function firstBox() {
  const boxes = state.views.filter((v) => v.kind === "elevation").map((v) => v.box);
  if (!boxes.length) return lines.box;
  return [0, 1, 2, 3].map((i) => Math[i < 2 ? "min" : "max"](...boxes.map((b) => b[i])));
}

async function start() {
  wire();
  const [next, bytes] = await Promise.all([read("state"), readBytes("drawing")]);
  lines = unpack(bytes);
  picture.setData(lines);
  show(next);
  listLayers();
  resize();
  lookAtElevations();
  picture.done().then(() => { byId("glass").dataset.drawn = "yes"; });
  if (isKept) showKept();
  await measure();
  byId("glass").dataset.ready = "yes";
  if (!isKept) poll();
}

start();
