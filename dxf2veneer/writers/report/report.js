(() => {
  "use strict";
  const body = document.body;
  const card = document.getElementById("card");
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
    return `${wall}, course ${Number(course) + 1}, piece ${piece}`;
  };
  const element = (kind, text, parent) => {
    const made = document.createElement(kind);
    made.textContent = text;
    parent.append(made);
    return made;
  };
  const unlight = () => { for (const shape of lit) shape.classList.remove("here", "kin"); lit = []; };
  const close = () => { unlight(); pinned = null; card.hidden = true; };

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
      go.addEventListener("click", () => pin(other, true));
    }
    card.hidden = false;
  }
  function pin(key, travel) {
    pinned = key;
    show(key);
    if (travel && shapes.has(key)) shapes.get(key)[0].scrollIntoView({ block: "center", inline: "center" });
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
    else if (shape) pin(shape.dataset.p, false);
    else if (event.target.closest(".stage")) close();
  });
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") close();
    const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    const stage = event.target.closest && event.target.closest(".stage");
    if (!step || !stage || !(pinned || event.shiftKey)) return;
    const all = [...stage.querySelectorAll(".p")];
    const at = all.findIndex((shape) => shape.dataset.p === pinned);
    const next = all[at < 0 ? 0 : at + step];
    if (next) { event.preventDefault(); pin(next.dataset.p, true); }
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

  const zooms = new Map();
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
    if (Object.hasOwn(data.pieces, key)) pin(key, true);
  };
  window.addEventListener("hashchange", fromAddress);
  body.classList.add("live");
  document.querySelectorAll(".stage").forEach(fit);
  fromAddress();
})();
