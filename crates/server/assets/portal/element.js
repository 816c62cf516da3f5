// ---- The element.

/** How long typing must pause before the service is asked, in ms. */
const PAUSE = 500;

class RamwrightLift extends HTMLElement {
  static observedAttributes = ["base", "theme", "example"];

  #draft = null;
  #answer = null;
  #wanted;
  #before = null;
  #service = null;
  #units = null;
  #round = new AbortController();
  #timer = 0;
  #form;
  #faults;
  #drawings;
  #compare;
  #said;
  #begin;
  #state;
  #verdict;
  #standing;
  #trouble;
  #parts;
  #assumed;
  #results;
  #darkness;
  #onDark;

  constructor() {
    super();
    const root = this.attachShadow({ mode: "open" });
    root.adoptedStyleSheets = [SHEET];
    this.#form = new Form({ changed: () => this.#edited(), say: (text) => this.#say(text) });
    this.#faults = new Faults(this.#form);
    this.#drawings = new Drawings();
    this.#compare = new Compare({ service: () => this.#service, say: (text) => this.#say(text) });
    this.#lay(root);
  }

  /** The places of the page, each filled by its own function. */
  #lay(root) {
    this.#said = make("p", { class: "unseen", role: "status", "aria-live": "polite" });
    this.#begin = make("div", { class: "begin", role: "group", "aria-label": "Begin with" });
    this.#state = make("p", { class: "state" });
    this.#verdict = make("div", {});
    this.#standing = make("div", { class: "standing" }, this.#verdict, this.#state);
    this.#trouble = make("div", {});
    this.#parts = make("div", {}, cautionsShown(STANDING));
    this.#assumed = make("details", { class: "section", id: "assumptions" }, make("summary", { part: "heading" }, make("h3", {}, "Assumptions"), make("span", { class: "filled" })), make("div", {}));
    this.#results = make("div", { class: "results", part: "results", role: "region", "aria-label": "Results" }, this.#faults.root, this.#trouble, this.#parts);
    this.#results.addEventListener("click", (event) => {
      const path = event.target.closest("a[data-path]")?.dataset.path;
      if (!path) return;
      event.preventDefault();
      this.#faults.leadTo(path);
    });
    root.append(make("div", { class: "page" }, this.#said, this.#begin, this.#standing,
      make("div", { class: "entry" }, this.#form.root, this.#assumed), this.#results, this.#drawings.root, make("div", { class: "across" }, this.#compare.root)));
    this.#beginnings();
  }

  connectedCallback() {
    if (Object.hasOwn(this, "request")) {
      const early = this.request;
      delete this.request;
      this.request = early;
    }
    this.#darkness = matchMedia("(prefers-color-scheme: dark)");
    this.#onDark = () => this.#draw();
    this.#darkness.addEventListener("change", this.#onDark);
    if (this.#draft) this.#work();
    else this.#start();
  }

  disconnectedCallback() {
    this.#darkness.removeEventListener("change", this.#onDark);
    this.#stop();
  }

  attributeChangedCallback(name, before, now) {
    if (!this.isConnected || before === now) return;
    if (name === "theme") this.#draw();
    else if (name === "example" && now) this.#beginWith(now);
    else if (name === "base") this.#start();
  }

  /** The request that the form stands for; null while its JSON cannot be read. */
  get request() {
    if (!this.#draft) return this.#wanted ?? null;
    const { request, faults } = this.#draft.build();
    return faults.length === 0 ? request : null;
  }

  set request(value) {
    const request = structuredClone(value ?? {});
    if (this.#units) this.#load(request);
    else this.#wanted = request;
  }

  /** The last answer to what stands in the form; null while there is none. */
  get result() {
    return this.#answer;
  }

  get #theme() {
    const said = this.getAttribute("theme");
    return said === "dark" || (said !== "light" && this.#darkness?.matches) ? "dark" : "light";
  }

  /** Fetches what the form offers, and then what it begins with. */
  async #start() {
    this.#stop();
    const { signal } = this.#round;
    this.#service = new Service(this.getAttribute("base") ?? OWN_BASE);
    this.#tell("Loading.");
    try {
      this.#units = (await this.#service.get("v1/units", signal)).units;
      const request = this.#draft?.build().request ?? this.#wanted ?? await this.#example(signal);
      await this.#form.lists.fetch(this.#service, request.catalogue ?? "demo_yard");
      if (!signal.aborted) this.#load(request);
    } catch (error) {
      if (error.name !== "AbortError") this.#refused(error, () => this.#start());
    }
  }

  #example(signal) {
    const name = this.getAttribute("example");
    return name ? this.#service.get(`examples/${encodeURIComponent(name)}.json`, signal) : {};
  }

  #load(request) {
    this.#draft = new Draft(this.#units, request);
    this.#form.show(this.#draft);
    this.#work();
  }

  #beginnings() {
    const button = (name, label) => make("button", { type: "button", part: "button", id: `begin-${name}`, onclick: () => this.#beginWith(name) }, label);
    this.#begin.replaceChildren(make("span", {}, "Begin with"),
      ...BEGINNINGS.map(([name, label]) => button(name, label)), button("", "Empty form"),
      ...(this.#before ? [make("button", { type: "button", part: "button", id: "begin-back", onclick: () => this.#swap(this.#before) }, "Back to what stood here")] : []));
  }

  async #beginWith(name) {
    if (!this.#units) return;
    try {
      this.#swap(name === "" ? {} : await this.#service.get(`examples/${encodeURIComponent(name)}.json`));
    } catch (error) {
      this.#refused(error, () => this.#beginWith(name));
    }
  }

  /** Puts another request into the form; what stood there can be had back. */
  #swap(request) {
    this.#before = this.#draft.build().request;
    this.#load(request);
    this.#beginnings();
    this.#emit("ramwright-change", { request: this.request });
  }

  #edited() {
    this.#stop();
    this.#stale();
    this.#timer = setTimeout(() => this.#work(), PAUSE);
    this.#emit("ramwright-change", { request: this.request });
  }

  #stop() {
    clearTimeout(this.#timer);
    this.#round.abort();
    this.#round = new AbortController();
  }

  /** One round: what is in the form, whether it is a request, what comes out. An older round is given up. */
  async #work() {
    this.#stop();
    const { signal } = this.#round;
    const { request, faults } = this.#draft.build();
    if (faults.length > 0) return this.#faulty({ code: "form", status: 0, title: "The form has faults", errors: faults });
    this.#stale();
    try {
      this.#fetchYard(request);
      const understood = await this.#service.post("v1/lift-plans?validate_only=true", request, signal);
      this.#assume(understood.assumptions);
      this.#faults.clear();
      this.#tell("Being worked out.");
      this.#succeed(await this.#service.post("v1/lift-plans", request, signal));
    } catch (error) {
      if (error.name !== "AbortError") this.#refused(error, () => this.#work());
    }
  }

  /** Another catalogue offers other rams and pieces. */
  async #fetchYard(request) {
    const name = typeof request.catalogue === "string" ? request.catalogue : "demo_yard";
    const isNew = await this.#form.lists.fetch(this.#service, name).catch(() => false);
    if (isNew) this.#form.draw();
  }

  #succeed(answer) {
    this.#answer = answer;
    this.#trouble.replaceChildren();
    this.#fresh();
    this.#verdict.replaceChildren(verdictShown(answer));
    this.#parts.replaceChildren(...resultsShown(answer, this.#service));
    this.#draw();
    this.#compare.show(answer);
    this.#tell("Worked out for what stands in the form.");
    this.#say(`Verdict ${words(answer.verdict.status)}. ${answer.verdict.governing ? decided(answer.verdict.governing) : ""}`);
    this.#emit("ramwright-result", { answer });
  }

  #refused(error, again) {
    if (!(error instanceof Told)) throw error;
    const { problem, retryAfter } = error;
    if (Array.isArray(problem.errors)) return this.#faulty(problem);
    this.#faults.clear();
    this.#nothing(problem.title);
    this.#trouble.replaceChildren(problemShown(error, again, (path) => this.#service.address(path)));
    this.#tell(problem.title);
    this.#say(`${problem.title}. ${problem.detail ?? ""}`);
    if (problem.status === 503 && retryAfter !== null) this.#timer = setTimeout(again, Math.max(1, retryAfter) * 1000);
    this.#emit("ramwright-problem", { problem });
  }

  #faulty(problem) {
    this.#trouble.replaceChildren();
    const { wrong, needed } = this.#faults.show(problem.errors);
    const text = [wrong > 0 ? counted(wrong, "fault", "faults") : null, needed > 0 ? `${counted(needed, "field is", "fields are")} still needed` : null].filter(Boolean).join(", ");
    this.#nothing(`${text[0].toUpperCase()}${text.slice(1)}.`);
    this.#tell(`No result: ${text}.`);
    this.#say(`No result: ${text}.`);
    this.#emit("ramwright-problem", { problem });
  }

  /** No result is shown for what has none: an old one could be taken for it. */
  #nothing(text) {
    this.#answer = null;
    this.#fresh();
    this.#verdict.replaceChildren(noVerdict(text));
    this.#parts.replaceChildren(cautionsShown(STANDING));
    this.#drawings.show(null);
    this.#assume(null);
    this.#compare.show(null);
  }

  #stale() {
    this.#answer = null;
    this.#results.classList.add("stale");
    this.#standing.classList.add("stale");
    this.#results.setAttribute("aria-busy", "true");
    this.#tell(this.#verdict.querySelector(".status") ? "Out of date: what is shown belongs to what stood here before." : "Being read.");
  }

  #fresh() {
    this.#results.classList.remove("stale");
    this.#standing.classList.remove("stale");
    this.#results.removeAttribute("aria-busy");
  }

  #assume(assumptions) {
    const [heading, body] = this.#assumed.children;
    heading.querySelector(".filled").textContent = assumptions ? counted(assumptions.length, "value is assumed", "values are assumed") : "not known yet";
    body.replaceChildren(assumptions ? assumptionsShown(assumptions) : "");
  }

  #draw() {
    if (this.#answer) this.#drawings.show(this.#answer, this.#service, this.#theme);
  }

  #tell(text) {
    this.#state.textContent = text;
  }

  #say(text) {
    this.#said.textContent = text;
  }

  #emit(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }
}

/** What holds before anything is known. */
const STANDING = [
  { text: "This result does not replace local codes, the maker's data for the rams in use, a competent or licensed engineer, or the lift supervisor." },
  { text: "Never work under a load held by oil alone: put it on packing or locked collars first." },
];

if (!customElements.get("ramwright-lift")) customElements.define("ramwright-lift", RamwrightLift);
