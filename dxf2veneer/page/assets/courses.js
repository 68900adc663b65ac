// Course lines and slivers over the walls, as the command lays them; a list of the slivers.

import { read } from "./talk.js";
import { make } from "./tally.js";

export class Courses {
  // does: goTo(box, margin), show()
  constructor(does) {
    this.does = does;
    this.box = document.getElementById("courses-shown");
    this.place = document.getElementById("course-list");
    this.shown = null;
    this.box.addEventListener("change", () => this.#ask());
  }

  // Laid anew where the marks have changed.
  follow(revision) { if (this.box.checked && revision !== this.revision) this.#ask(); }

  async #ask() {
    const asked = (this.asked = (this.asked ?? 0) + 1);
    const found = this.box.checked ? await read("courses").catch(() => null) : null;
    if (asked !== this.asked) return;
    this.shown = found;
    this.revision = found?.revision;
    this.#list(found);
    this.does.show();
  }

  #list(found) {
    if (!found) { this.place.replaceChildren(); return; }
    const slivers = found.walls.flatMap((wall) => wall.slivers);
    const counts = found.walls.map((wall) => `${wall.id}: ${wall.count} courses`).join(", ");
    const items = slivers.map((sliver) => make("li", {}, make("button", {
      type: "button", class: "link", onclick: () => this.does.goTo(sliver.box, 0.35),
    }, sliver.text)));
    this.place.replaceChildren(
      make("p", {}, found.problem || `${counts}. ${slivers.length || "No"} sliver${slivers.length === 1 ? "" : "s"}`),
      make("ul", { class: "links" }, ...items));
  }
}
