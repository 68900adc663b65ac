(() => {
  "use strict";
  const body = document.body;
  const card = document.getElementById("card");
  const told = document.getElementById("told");
  const data = JSON.parse(document.getElementById("data").textContent);
  const shapes = new Map(), panels = new Map();
  const add = (map, key, value) => { if (!map.has(key)) map.set(key, []); map.get(key).push(value); };
  for (const shape of document.querySelectorAll(".p")) {
    const piece = data.pieces[shape.dataset.p];
    add(shapes, shape.dataset.p, shape);
    if (piece) add(panels, piece[5], shape);
  }
  let pinned = null, lit = [];

  const name = (key) => {
    const [wall, course, piece] = key.split("/");
    return `${wall}, course ${data.firsts[wall] + Number(course)}, piece ${piece}`;
  };
  const element = (kind, text, parent) => {
    const made = document.createElement(kind);
    made.textContent = text;
    parent.append(made);
    return made;
  };
  const unlight = () => { for (const shape of lit) shape.classList.remove("here", "kin"); lit = []; };
  const close = () => { unlight(); pinned = null; card.hidden = true; told.textContent = ""; };

  function show(key) {
    const piece = data.pieces[key];
    if (!piece) return;
    const [what, length, height, angle, ends, panel] = piece;
    unlight();
    const kin = panels.get(panel) || [];
    lit = kin;
    for (const shape of kin) shape.classList.add(shape.dataset.p === key ? "here" : "kin");
    card.replaceChildren();
    const shut = element("button", "×", card);
    shut.className = "shut";
    shut.setAttribute("aria-label", "Close");
    shut.addEventListener("click", close);
    element("h3", name(key), card);
    const list = element("dl", "", card);
    for (const [term, value] of [["What", what], ["Cut length", length], ["Height", height], ["Angle", angle], ["Ends", ends], ["Panel", `${panel}: ${data.panels[panel] || ""}`]]) {
      if (value) { element("dt", term, list); element("dd", value, list); }
    }
    const others = [...new Set(kin.map((shape) => shape.dataset.p))].filter((other) => other !== key);
    element("p", others.length ? "From the same panel:" : "Nothing else comes from this panel.", card);
    for (const other of others) {
      const go = element("button", `${name(other)}, ${data.pieces[other][1]}`, card);
      go.addEventListener("click", () => pin(other, "center"));
    }
    card.hidden = false;
    told.textContent = [...card.children].filter((part) => part !== shut)
      .flatMap((part) => part === list ? [...list.querySelectorAll("dt")] : [part])
      .map((part) => part.localName === "dt" ? `${part.textContent} ${part.nextSibling.textContent}` : part.textContent)
      .join("; ");
  }
  function pin(key, where) {
    pinned = key;
    show(key);
    if (where && shapes.has(key)) shapes.get(key)[0].scrollIntoView({ block: where, inline: where });
  }
  const pieceAt = (event) => event.target.closest ? event.target.closest(".p") : null;

  document.addEventListener("pointerover", (event) => {
    const shape = pieceAt(event);
    if (event.pointerType === "touch" || pinned) return;
    if (shape) show(shape.dataset.p); else if (!card.contains(event.target)) close();
  });
  document.addEventListener("click", (event) => {
    const shape = pieceAt(event), link = event.target.closest("a[href^='#']");
    if (link) jump(event, link.getAttribute("href").slice(1));
    else if (shape) pin(shape.dataset.p);
    else if (event.target.closest(".stage")) close();
  });
  // courses from below, the pieces of each from the left
  const rows = new Map();
  function rowsOf(stage) {
    if (!rows.has(stage)) {
      const courses = new Map();
      for (const shape of stage.querySelectorAll(".p[data-p]")) {
        const box = shape.getBBox(), key = shape.dataset.p;
        add(courses, Number(key.split("/")[1]), { key, x0: box.x, x1: box.x + box.width });
      }
      const ordered = [...courses].sort((a, b) => a[0] - b[0]).map(([, row]) => row);
      for (const row of ordered) row.sort((a, b) => a.x0 - b.x0);
      rows.set(stage, ordered);
    }
    return rows.get(stage);
  }
  function goal(stage, sign) {
    const all = rowsOf(stage), r = all.findIndex((row) => row.some((piece) => piece.key === pinned));
    if (r < 0) return all[0][0];
    const row = all[r], n = row.findIndex((piece) => piece.key === pinned);
    if (sign === "Home") return row[0];
    if (sign === "End") return row[row.length - 1];
    if (sign === "ArrowLeft") return row[n - 1];
    if (sign === "ArrowRight") return row[n + 1];
    const middle = (row[n].x0 + row[n].x1) / 2;
    const away = (piece) => Math.max(piece.x0 - middle, middle - piece.x1, 0);
    return (all[sign === "ArrowUp" ? r + 1 : r - 1] || []).reduce(
      (best, piece) => best && away(best) <= away(piece) ? best : piece, undefined);
  }
  let left = null;
  document.addEventListener("keydown", (event) => {
    const stage = event.target;
    if (event.key === "Escape") {
      if (left && card.contains(stage)) left.focus();
      close();
    }
    if (!stage.classList || !stage.classList.contains("stage") || event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.key === "Enter" && pinned) {
      left = stage;
      (card.querySelector("button:not(.shut)") || card.querySelector("button")).focus();
      event.preventDefault();
    }
    if (!/^(Arrow(Left|Right|Up|Down)|Home|End)$/.test(event.key) || !rowsOf(stage).length) return;
    event.preventDefault();
    const next = goal(stage, event.key);
    if (next) pin(next.key, "nearest");
  });

  function jump(event, id) {
    const goal = document.getElementById(id);
    if (!goal) return;
    event.preventDefault();
    for (const layer of ["place", "off"]) if (goal.classList.contains(layer)) setLayer(`${layer}s`, true);
    const aside = goal.closest("details");
    if (aside) aside.open = true;
    goal.scrollIntoView({ block: goal.closest(".stage") || id.startsWith("note-") ? "center" : "start", inline: "center" });
    goal.classList.add("found");
    setTimeout(() => goal.classList.remove("found"), 2500);
  }

  function setLayer(layer, on) {
    body.classList.toggle(`without-${layer}`, !on);
    document.querySelector(`input[data-layer="${layer}"]`).checked = on;
  }
  for (const box of document.querySelectorAll("input[data-layer]")) {
    box.addEventListener("change", () => setLayer(box.dataset.layer, box.checked));
  }

  const zooms = new Map(), NARROW = 700, LEGIBLE = 9;
  // on a phone a drawing opens so close that its smallest text can be read; Fit shows it whole
  function open(stage) {
    const picture = stage.querySelector("svg"), wide = stage.clientWidth;
    const sizes = [...picture.querySelectorAll("text")].map((text) => parseFloat(getComputedStyle(text).fontSize));
    if (wide && wide < NARROW && sizes.length) {
      zooms.set(stage, Math.min(12, Math.max(1, LEGIBLE / (Math.min(...sizes) * wide / picture.viewBox.baseVal.width))));
    }
    fit(stage);
  }
  function fit(stage) {
    const picture = stage.querySelector("svg"), zoom = zooms.get(stage) || 1;
    const width = stage.clientWidth * zoom;
    if (!width) return;
    picture.style.width = `${width}px`;
    picture.style.maxHeight = zoom === 1 ? "" : "none";
    const tall = picture.getBoundingClientRect();
    const scale = Math.min(tall.width / picture.viewBox.baseVal.width, tall.height / picture.viewBox.baseVal.height);
    picture.classList.toggle("from-afar", scale * Number(picture.dataset.text) < 6.5);
  }
  for (const stage of document.querySelectorAll(".stage")) {
    for (const button of stage.parentElement.querySelectorAll("button[data-zoom]")) {
      button.addEventListener("click", () => {
        const middle = (stage.scrollLeft + stage.clientWidth / 2) / stage.scrollWidth;
        const step = Number(button.dataset.zoom);
        zooms.set(stage, step ? Math.min(12, Math.max(1, (zooms.get(stage) || 1) * step)) : 1);
        fit(stage);
        stage.scrollLeft = middle * stage.scrollWidth - stage.clientWidth / 2;
      });
    }
  }
  window.addEventListener("resize", () => document.querySelectorAll(".stage").forEach(fit));
  const fromAddress = () => {
    const key = decodeURIComponent(location.hash.slice(1));
    if (Object.hasOwn(data.pieces, key)) pin(key, "center");
  };
  window.addEventListener("hashchange", fromAddress);
  body.classList.add("live");
  document.querySelectorAll(".stage").forEach(open);
  fromAddress();
})();
