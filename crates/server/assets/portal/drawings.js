// ---- Drawings: fetched one after another, those that are folded up when they are opened.

const DRAWINGS = [
  ["plan", "Plan", true], ["elevation", "Elevation", true], ["shares_chart", "Load shares", false], ["utilisation_chart", "Utilisation", false],
  ["steps", "Steps", false], ["heights_chart", "Heights", false], ["free_body", "Free body", false], ["circuit", "Circuit", false], ["pressure_chart", "Pressures", false],
];

class Drawings {
  constructor() {
    this.root = make("section", { class: "result drawings", id: "result-drawings", "aria-labelledby": "result-drawings-title" });
    this.opened = new Set(DRAWINGS.filter(([, , open]) => open).map(([name]) => name));
    this.stop = new AbortController();
  }

  /** Shows the drawings of an answer; one that does not exist for it says so. */
  show(answer, service, theme) {
    this.stop.abort();
    this.stop = new AbortController();
    this.queue = Promise.resolve();
    if (!answer?.permalink || answer.result.ram_set.length === 0) {
      this.root.replaceChildren();
      return;
    }
    const sketches = DRAWINGS.map((drawing) => this.sketch(drawing, `${answer.permalink}?view=${drawing[0]}&theme=${theme}`, theme, service));
    this.root.replaceChildren(make("h2", { id: "result-drawings-title", part: "heading" }, "Drawings"), ...sketches);
  }

  sketch([name, title], path, theme, service) {
    const { signal } = this.stop;
    const body = make("div", { class: `drawing ${theme}`, part: "drawing", tabindex: "0", role: "region", "aria-label": title }, make("p", { class: "hint" }, "Being drawn."));
    let asked = false;
    const draw = async () => {
      if (signal.aborted) return;
      try {
        body.replaceChildren(await service.drawing(path, signal));
      } catch (error) {
        if (error.name === "AbortError") return;
        const none = error.problem?.status === 406;
        body.replaceChildren(make("p", { class: "hint" }, none ? "This lift has no such drawing." : error.message));
      }
    };
    const details = make("details", { class: "sketch", open: this.opened.has(name) }, make("summary", {}, title), body);
    const look = () => {
      details.open ? this.opened.add(name) : this.opened.delete(name);
      if (details.open && !asked) {
        asked = true;
        this.queue = this.queue.then(draw);
      }
    };
    details.addEventListener("toggle", look);
    return details;
  }
}
