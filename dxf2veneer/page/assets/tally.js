// The list of walls and openings with their numbers: everything that the picture shows, for keys
// and screen readers too.

import { NAMES, numberOf } from "./overlay.js";

const LINES = {
  outside: "outside corner", inside: "inside corner", bay: "bay corner", end: "finished end",
  butt: "plain edge", cap: "cap", level: "level line",
};

export function make(name, attributes = {}, ...content) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
    else if (value === true) made.setAttribute(key, "");
    else if (value !== false && value !== null) made.setAttribute(key, value);
  }
  made.append(...content.filter((part) => part !== null && part !== undefined));
  return made;
}

export function amounts(rows) {
  return make("dl", { class: "amounts" }, ...rows.flatMap(([name, value, kind = ""]) => [
    make("dt", { class: kind }, name), make("dd", { class: kind }, value)]));
}

export class Tally {
  // does: goTo(box), light(id), edit(change), unseen()
  constructor(does) { this.does = does; }

  draw(state, figures) {
    const focused = document.activeElement?.dataset?.key;
    const typed = document.activeElement?.value;
    this.#sums(state, figures);
    this.#unit(state);
    this.#doubts(state, figures);
    this.#walls(state, figures);
    const again = focused && document.querySelector(`[data-key="${CSS.escape(focused)}"]`);
    if (again) {
      again.focus({ preventScroll: true });
      if (again.matches("input.name")) again.value = typed;
    }
  }

  #sums(state, figures) {
    const sums = document.getElementById("sums");
    const said = state.looking && !state.marks.length ? "What the drawing proposes comes in a moment"
      : state.confirmed ? "Confirmed: you have looked at every elevation"
      : document.body.classList.contains("kept-page") ? "Proposed, not confirmed by a person"
      : "Proposed, not confirmed: tick each elevation once you have looked at it";
    const shown = figures.totals ? amounts([
      ["Walls, gross", figures.totals.gross], ["Openings taken off", figures.totals.openings],
      ["Net", figures.totals.net, "net"], ...figures.totals.runs]) : make("p", {}, state.looking && !state.marks.length ? "" : figures.problem || "Measuring …");
    sums.dataset.revision = figures.revision;
    const seen = state.confirmed || !state.marks.some((m) => m.kind === "wall") ? null : this.#lookAll(state, figures);
    const whole = state.windows.length ? make("p", { class: "for-change" }, "Only what lies in the cropped views is read. ", make("button", {
      type: "button", "data-key": "uncrop", onclick: () => this.does.edit({ do: "crop", box: null }),
    }, "Read the whole drawing")) : null;
    sums.replaceChildren(...[make("h2", {}, said), seen, whole, shown].filter(Boolean));
  }

  // One click for all elevations, once each of them has been on the sheet; until then the way to
  // those that have not.
  #lookAll(state, figures) {
    const hidden = this.does.unseen();
    const doubts = state.doubts.length + (figures.doubts || []).length;
    const count = state.views.filter((v) => v.has_walls).length;
    const all = count > 1 ? `all ${count} elevations` : "the elevation";
    const also = doubts ? ` and at what is doubtful (${doubts})` : "";
    const [text, click] = hidden.length
      ? [`Show what has not been on the sheet yet (${hidden.length})`, () => this.does.goTo(hidden[0], 0.05)]
      : [`I have looked at ${all}${also}`, () => this.does.edit({ do: "look", view: "*", seen: true })];
    return make("p", { class: "for-change" }, make("button", { type: "button", "data-key": "look-all", onclick: click }, text));
  }

  #unit(state) {
    const { unit } = state;
    const units = ["mm", "cm", "m", "in", "ft"];
    const listed = unit.name && !units.includes(unit.name) ? [unit.name, ...units] : units;
    const choice = make("select", {
      "data-key": "unit", class: "for-change",
      onchange: (event) => this.does.edit({ do: "unit", unit: event.target.value || null }),
    }, make("option", { value: "" }, "as the drawing says"),
      ...listed.map((name) => make("option", { value: name, selected: name === unit.name }, name)));
    const scale = unit.scale === 1 ? "" : `, drawn at 1 to ${Number(unit.scale.toPrecision(6))}`;
    document.getElementById("unit").replaceChildren(
      make("label", {}, `One drawing unit is: ${unit.title || "not known"}${scale} `, choice));
  }

  #doubts(state, figures) {
    const byMark = state.doubts.map((doubt) => ({ ...doubt, from: state.marks.find((m) => m.id === doubt.mark) }));
    const places = (figures.doubts || []).map((doubt) => ({ ...doubt, from: null }));
    const items = [...byMark, ...places].map((doubt, i) => {
      const name = doubt.from ? `${numberOf(doubt.from, figures, { whole: true })}: ` : "";
      const text = `${name}${doubt.text}${doubt.remedy ? `. ${doubt.remedy}` : ""}`;
      const goes = doubt.from || doubt.at || doubt.box;
      return make("li", {}, goes ? make("button", {
        type: "button", class: "link", "data-key": `doubt-${i}`,
        onclick: () => {
          if (doubt.from) { this.does.light(doubt.from.id); this.does.goTo(doubt.from.box, 0.3); }
          else if (doubt.box) this.does.goTo(doubt.box, 0.05);
          else this.does.goNear(doubt.at);
        },
      }, text) : text);
    });
    const section = document.getElementById("doubts");
    section.hidden = !items.length;
    section.replaceChildren(make("h2", {}, `Look at ${items.length === 1 ? "this" : "these"}`), make("ul", {}, ...items));
  }

  #walls(state, figures) {
    const walls = state.marks.filter((m) => m.kind === "wall");
    const groups = state.views.filter((v) => v.kind === "elevation" || v.has_walls);
    const rest = walls.filter((w) => !groups.some((v) => v.id === w.view));
    const parts = groups.map((view) => this.#view(view, walls.filter((w) => w.view === view.id), state, figures));
    if (figures.others.length) {
      parts.push(make("section", { class: "view" }, make("h2", {}, "Walls from the job's layers"), ...figures.others.map((wall) =>
        make("article", { class: "wall" }, make("h3", {}, `${wall.id} ${wall.name}`), amounts([
          ["Size", wall.size], ["Gross", wall.gross], ["Openings taken off", wall.openings], ["Net", wall.net, "net"]])))));
    }
    const levels = state.lines.filter((line) => line.wall === null);
    const loose = state.marks.filter((m) => m.kind !== "wall" && m.wall === null);
    if (rest.length) parts.push(this.#view({ id: "", kind: "", title: "Outside every view", looked_at: state.looked_at_rest }, rest, state, figures));
    if (loose.length) {
      parts.push(make("section", { class: "view" }, make("h2", {}, "Openings in no wall"),
        this.#openings(loose, figures)));
    }
    if (levels.length) parts.push(make("section", { class: "view" }, make("h2", {}, "Lines"), this.#lines(levels)));
    document.getElementById("walls").replaceChildren(...parts);
  }

  #view(view, walls, state, figures) {
    const title = [view.id, view.kind, view.title].filter(Boolean).join(" · ");
    const key = `look-${view.id}`;
    return make("section", { class: "view", "aria-label": title },
      make("header", {},
        make("h2", {}, view.box ? make("button", {
          type: "button", class: "link", "data-key": `view-${view.id}`, onclick: () => this.does.goTo(view.box, 0.05),
        }, title) : title),
        view.box || walls.length ? make("label", { class: "for-change" }, make("input", {
          type: "checkbox", "data-key": key, checked: view.looked_at,
          onchange: (event) => this.does.edit({ do: "look", view: view.id, seen: event.target.checked }),
        }), "I have looked at this elevation") : null,
        walls.length ? null : make("p", {}, "No wall is marked here.")),
      ...walls.map((wall) => this.#wall(wall, state, figures)));
  }

  #wall(wall, state, figures) {
    const measured = figures.walls[wall.id];
    const number = numberOf(wall, figures);
    const openings = state.marks.filter((m) => m.wall === wall.id);
    const rows = measured ? [
      ["Size", measured.size], ["Gross", measured.gross], ["Openings taken off", measured.openings],
      ["Starter strip", measured.starter], ["Trim", measured.trim], ["Net", measured.net, "net"],
    ] : [["", figures.problem ? "not measured" : "measuring …"]];
    return make("article", { class: "wall", "data-mark": wall.id, ...this.#lights(wall) },
      make("div", {},
        make("h3", {}, make("button", {
          type: "button", class: "link", "data-key": `wall-${wall.id}`, onclick: () => this.does.goTo(wall.box),
          "aria-label": measured ? `${number}, ${measured.size}, net ${measured.net}` : number,
        }, number)),
        make("input", {
          class: "name", "aria-label": `Name of ${number}`, value: wall.name, "data-key": `name-${wall.id}`,
          maxlength: 80, placeholder: "name",
          onchange: (event) => this.does.edit({ do: "rename", mark: wall.id, name: event.target.value }),
        }),
        this.#out(wall, number)),
      amounts(rows),
      wall.note ? make("p", { class: "sure" }, wall.note) : null,
      this.#openings(openings, figures),
      this.#lines(state.lines.filter((line) => line.wall === wall.id)));
  }

  #lines(lines) {
    return make("ul", { class: "openings" }, ...lines.map((line) => make("li", {},
      make("span", {}, "⎸"),
      make("span", {}, LINES[line.kind]),
      ["outside", "inside", "bay"].includes(line.kind) ? make("input", {
        class: "tag-text for-change", size: 4, maxlength: 12, value: line.tag, placeholder: "tag", "data-key": `tag-${line.id}`,
        "aria-label": `Tag of the ${LINES[line.kind]}: edges with one tag are one corner`,
        onchange: (event) => this.does.edit({ do: "tag", mark: line.id, tag: event.target.value }),
      }) : make("span"),
      make("button", {
        type: "button", class: "for-change", "data-key": `out-${line.id}`, "aria-label": `Take out the ${LINES[line.kind]}`,
        onclick: () => this.does.edit({ do: "drop", mark: line.id }),
      }, "×"))));
  }

  #openings(openings, figures) {
    return make("ul", { class: "openings" }, ...openings.map((mark) => {
      const number = numberOf(mark, figures);
      const measured = figures.openings[mark.id];
      const kind = this.#kinds(mark, number);
      return make("li", { "data-mark": mark.id, title: mark.note, ...this.#lights(mark) },
        make("button", {
          type: "button", class: "link", "data-key": `opening-${mark.id}`, "aria-label": `${number}, ${NAMES[mark.kind] ?? mark.kind}${measured ? `, ${measured.size}` : ""}`,
          onclick: () => this.does.goTo(mark.box, 0.3),
        }, number),
        make("span", { class: "size" }, measured ? measured.size : ""),
        kind, this.#out(mark, number));
    }));
  }

  // One click for another kind: a letter each, the chosen one in full.
  #kinds(mark, number) {
    return make("span", { class: "chips for-change", role: "radiogroup", "aria-label": `Kind of ${number}` },
      ...["window", "door", "garage", "vent", "fixture"].map((name) => {
        const word = NAMES[name] ?? name, chosen = name === mark.kind;
        return make("label", { title: word }, make("input", {
          type: "radio", name: `kind-${mark.id}`, value: name, checked: chosen, "aria-label": word,
          "data-key": chosen ? `kind-${mark.id}` : `kind-${mark.id}-${name}`,
          onchange: () => this.does.edit({ do: "change", mark: mark.id, kind: name }),
        }), chosen ? word : word[0].toUpperCase());
      }));
  }

  #out(mark, number) {
    return make("button", {
      type: "button", class: "for-change", "data-key": `out-${mark.id}`, "aria-label": `Take out ${number}`,
      title: "Take out", onclick: () => this.does.edit({ do: "drop", mark: mark.id }),
    }, "×");
  }

  #lights(mark) {
    const on = () => this.does.light(mark.id), off = () => this.does.light(null);
    return { onpointerenter: on, onpointerleave: off, onfocusin: on, onfocusout: off };
  }
}
