// The takeoff that the command makes: begun by a button, with links to what it wrote.

import { amounts, make } from "./tally.js";
import { change, read } from "./talk.js";

const PAUSE_MS = 400;

export class Taken {
  constructor(say) {
    this.say = say;
    this.button = document.getElementById("take");
    this.place = document.getElementById("taken");
    this.button.addEventListener("click", () => this.take().catch((error) => say(error.message)));
  }

  async take() {
    let status = await change("take");
    while (status.step) {
      this.#show(status);
      await new Promise((ready) => setTimeout(ready, PAUSE_MS));
      status = await read("takeoff");
    }
    this.#show(status);
    this.say(status.problem || "Taken off");
  }

  // A takeoff of an earlier state says so.
  draw(revision) {
    this.revision = revision;
    if (this.status) this.#show(this.status);
  }

  #show(status) {
    this.status = status;
    this.button.disabled = Boolean(status.step);
    const parts = [];
    if (status.step) parts.push(make("p", {}, `${status.step} …`));
    if (status.problem) parts.push(make("p", {}, status.problem));
    if (status.rows.length) {
      if (status.revision !== this.revision) parts.push(make("p", { class: "old" }, "Marks have changed since: take off again"));
      parts.push(amounts(status.rows));
      parts.push(make("ul", { class: "links" }, ...status.files.map(([what, name]) => make("li", {},
        make("a", { href: `output/${encodeURIComponent(name)}`, target: "_blank", rel: "noopener" }, what)))));
    }
    this.place.replaceChildren(...parts);
  }
}
