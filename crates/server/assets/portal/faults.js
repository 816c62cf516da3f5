// ---- Faults: each at its field, and all of them in a summary.

/** The names of a JSON Pointer such as `#/load_case/points/0/x`. */
function namesOf(pointer) {
  return pointer.replace(/^#?\//, "").split("/").map((name) => name.replaceAll("~1", "/").replaceAll("~0", "~"));
}

/** The ids of controls that may show what is said of a pointer, the best first. */
function idsFor(pointer) {
  const path = namesOf(pointer).join("/");
  const [, place, within] = /^load_case\/points\/(\d+)(?:\/(.*))?$/.exec(path) ?? [];
  if (place !== undefined) return [...idsAmong(ALL_POINT_FIELDS, within ?? "", `p${place}`), `rest-${place}`, `p${place}-id`, "points-add"];
  if (path === `${LOAD}/points`) return ["points-add"];
  return [...idsAmong(FIELDS, path, "f"), "rest"];
}

function idsAmong(fields, path, scope) {
  const same = fields.filter((field) => field.path === path || path.startsWith(`${field.path}/`));
  const under = path === "" ? [] : fields.filter((field) => field.path.startsWith(`${path}/`));
  return [...same, ...under].map((field) => idOf(scope, field));
}

/** What a fault says in one line. */
function sentence(fault) {
  const end = (text) => (/[.!?]$/.test(text) ? text : `${text}.`);
  const near = fault.nearest ? `The nearest is ${fault.nearest}.` : null;
  const hint = fault.hint ? `${fault.hint[0].toUpperCase()}${fault.hint.slice(1)}` : null;
  return [fault.detail, hint, near].filter(Boolean).map(end).join(" ");
}

/** Opens what a control is folded up in, and goes there. */
function lead(target) {
  for (let at = target.closest("details"); at; at = at.parentElement.closest("details")) at.open = true;
  target.focus();
  target.scrollIntoView({ block: "center" });
}

class Faults {
  constructor(form) {
    this.form = form;
    this.root = make("div", { class: "faults", role: "group", "aria-labelledby": "faults-title", hidden: true });
  }

  clear() {
    for (const one of this.form.root.querySelectorAll(".fault")) one.replaceChildren();
    for (const one of this.form.root.querySelectorAll("[aria-invalid]")) one.removeAttribute("aria-invalid");
    for (const one of this.form.root.querySelectorAll(".section.wrong")) one.classList.remove("wrong");
    this.root.hidden = true;
    this.root.replaceChildren();
  }

  /** Shows the faults of a request; what nobody has come to yet is only listed as needed. */
  show(faults) {
    this.clear();
    const items = faults.map((fault) => ({ fault, target: this.target(fault) }));
    const isNeeded = ({ fault }) => fault.code === "missing_field" && !this.isTouched(fault);
    const needed = items.filter(isNeeded);
    const wrong = items.filter((item) => !isNeeded(item));
    for (const item of wrong) this.mark(item);
    this.root.append(
      ...this.list(wrong, counted(wrong.length, "fault", "faults"), "faults-title"),
      ...this.list(needed, wrong.length > 0 ? "Still needed" : "Needed for a result", wrong.length > 0 ? "needed-title" : "faults-title"));
    this.root.hidden = items.length === 0;
    return { wrong: wrong.length, needed: needed.length };
  }

  /** Whether somebody has typed into the field that a fault is about, or into one under it. */
  isTouched(fault) {
    const path = namesOf(fault.pointer ?? "").join("/");
    const [, place, within] = /^load_case\/points\/(\d+)\/(.*)$/.exec(path) ?? [];
    const { draft } = this.form;
    const contents = place === undefined ? draft.contents : draft.rows[Number(place)]?.contents ?? new Map();
    const own = within ?? path;
    return [...contents].some(([at, content]) => content.touched && (at === own || at.startsWith(`${own}/`)));
  }

  target(fault) {
    const ids = fault.at ? [fault.at] : idsFor(fault.pointer ?? "");
    return ids.map((id) => this.form.root.querySelector(`#${CSS.escape(id)}`)).find(Boolean) ?? null;
  }

  mark({ fault, target }) {
    if (!target) return;
    target.setAttribute("aria-invalid", "true");
    const place = this.form.root.querySelector(`#${CSS.escape(`${target.id}-fault`)}`);
    place?.append(make("span", {}, make("span", { class: "sign", "aria-hidden": "true" }, "✕"), " ", sentence(fault), " "));
    target.closest(".section")?.classList.add("wrong");
  }

  list(items, title, id) {
    if (items.length === 0) return [];
    return [make("h3", { id }, title), make("ul", {}, items.map(({ fault, target }) => make("li", {}, this.link(fault, target))))];
  }

  link(fault, target) {
    const name = this.nameOf(fault, target);
    if (!target) return `${name}: ${sentence(fault)}`;
    const go = (event) => {
      event.preventDefault();
      lead(target);
    };
    return [make("a", { href: `#${target.id}`, onclick: go }, name), fault.code === "missing_field" ? "" : `: ${sentence(fault)}`];
  }

  /** Leads to the field of a path in which a point stands by its name, as checks say what they lack. */
  leadTo(path) {
    const [, name, within] = /^load_case\/points\/([^/]+)\/(.*)$/.exec(path) ?? [];
    const place = this.form.draft.rows.findIndex((row) => row.contents.get("id")?.text.trim() === name);
    const target = this.target({ pointer: name === undefined ? `#/${path}` : `#/${LOAD}/points/${Math.max(0, place)}/${within}` });
    if (target) lead(target);
  }

  nameOf(fault, target) {
    const row = /^p(\d+)-/.exec(target?.id ?? "");
    const label = target?.labels?.[0]?.textContent ?? (target?.id === "points-add" ? "Jacking points" : "Request");
    const point = row ? `Point ${this.form.draft.rows[Number(row[1])]?.contents.get("id")?.text || Number(row[1]) + 1}, ` : "";
    const exact = target && (fault.at || target.id.endsWith(namesOf(fault.pointer ?? "").at(-1)));
    return `${point}${label}${exact || !fault.pointer ? "" : ` (${namesOf(fault.pointer).join("/")})`}`;
  }
}

/** A problem that is not a matter of fields. */
function problemShown(told, again, link) {
  const { problem, retryAfter } = told;
  const late = problem.status === 503;
  const wait = retryAfter === null ? "" : ` It asks to be left alone for ${counted(retryAfter, "second", "seconds")}; it is asked again then.`;
  return make("div", { class: "problem", part: "problem" },
    make("h2", {}, make("span", { class: "sign", "aria-hidden": "true" }, "✕"), " ", problem.title),
    make("p", {}, problem.detail ?? "", late ? wait : ""),
    make("p", { class: "buttons" },
      make("button", { type: "button", part: "button", onclick: again }, "Try again"),
      problem.type && problem.code !== "form" ? make("a", { href: link(problem.type), target: "_blank", rel: "noopener" }, "What this means") : null));
}
