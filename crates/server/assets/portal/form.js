// ---- The form: its sections, and what happens when something in it changes.

/** What selects offer: the catalogues and what is in the one chosen. */
class Lists {
  constructor() {
    this.catalogues = [];
    this.yards = new Map();
  }

  entries(list, draft) {
    if (list === "catalogues") return this.catalogues.map((one) => [one.name, `${one.name}: ${one.title}`]);
    const yard = this.yards.get(draft.contents.get("catalogue")?.text || "demo_yard");
    const found = yard?.[list] ?? {};
    const all = Array.isArray(found) ? found : Object.entries(found).map(([id, one]) => ({ id, ...one }));
    return all.map((one) => [one.id, described(list, one)]);
  }

  /** Fetches the catalogue that a draft names, if it is not there yet. */
  async fetch(service, name) {
    if (this.catalogues.length === 0) this.catalogues = (await service.get("v1/catalogues")).catalogues;
    if (this.yards.has(name) || !this.catalogues.some((one) => one.name === name)) return false;
    this.yards.set(name, (await service.get(`v1/catalogues/${encodeURIComponent(name)}`)).catalogue);
    return true;
  }
}

/** An entry with what tells it from others. */
function described(list, one) {
  const said = { rams: [one.capacity, one.stroke], packing: [one.thickness], pumps: [one.rated_pressure], hoses: [one.length] }[list] ?? [];
  const known = said.filter(isObject).map(quantity);
  return known.length > 0 ? `${one.id} (${listed(known)})` : one.id;
}

class Form {
  constructor({ changed, say }) {
    this.lists = new Lists();
    this.told = { changed, say };
    this.opened = new Set(SECTIONS.filter((section) => section.open).map((section) => section.id));
    this.root = make("form", { class: "form", part: "form", novalidate: true, "aria-label": "The lift", onsubmit: (event) => event.preventDefault() });
  }

  show(draft) {
    this.draft = draft;
    this.draw();
  }

  get around() {
    return new Around({ draft: this.draft, lists: this.lists, changed: (field) => this.fieldChanged(field) });
  }

  draw() {
    const at = this.root.getRootNode().activeElement?.id;
    this.table = new PointTable(this.around, this.told.say);
    this.root.replaceChildren(...SECTIONS.map((section) => this.section(section)), this.everythingElse());
    this.count();
    if (at) this.root.querySelector(`#${CSS.escape(at)}`)?.focus();
  }

  section(section) {
    const shown = section.fields.filter((field) => this.draft.isShown(this.draft.contents, field));
    const body = section.id === "points" ? this.table.root
      : make("div", { class: "fields" }, shown.map((field) => control(this.around, this.draft.contents, field, "f")));
    return this.fold(section.id, section.title, body);
  }

  everythingElse() {
    return this.fold("rest", "Everything else (JSON)", make("div", {},
      make("p", { class: "hint" }, "What a request can say and no field above holds, as the description of the service names it."),
      restControl(this.around, this.draft, "rest", "Everything else")), this.draft.rest !== "");
  }

  fold(id, title, body, open = false) {
    const details = make("details", { class: "section", id: `section-${id}`, open: open || this.opened.has(id), ontoggle: () => { details.open ? this.opened.add(id) : this.opened.delete(id); } },
      make("summary", { part: "heading" }, make("h3", {}, title), make("span", { class: "filled", id: `filled-${id}` })), body);
    return details;
  }

  /** Says beside each heading how much stands under it. */
  count() {
    for (const section of SECTIONS) {
      const filled = section.fields.filter((field) => isFilled(field, this.draft.contents.get(field.path))).length;
      const text = section.id === "points" ? counted(this.draft.rows.length, "point", "points") : filled > 0 ? `${filled} filled in` : "";
      this.root.querySelector(`#filled-${section.id}`).textContent = text;
      this.root.querySelector(`#section-${section.id}`).classList.toggle("used", text !== "");
    }
  }

  fieldChanged(field) {
    this.count();
    if (field?.path === "units") this.draft.takeUnits();
    if (field?.path === `${LOAD}/task` || field?.path === "units") this.draw();
    this.told.changed(field);
  }
}
