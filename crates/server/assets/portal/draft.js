// ---- The draft: what stands in the form, as contents of fields and as JSON for all that has no field.

/** The JSON text for what has no field; nothing for an empty object. */
function restText(tree) {
  return Object.keys(tree).length === 0 ? "" : JSON.stringify(tree, null, 2);
}

/** Reads such a text: the object, or what is wrong with it. */
function restTree(text) {
  if (text.trim() === "") return { tree: {} };
  try {
    const tree = JSON.parse(text);
    return isObject(tree) ? { tree } : { tree: {}, wrong: "This must be an object: {...}." };
  } catch (error) {
    return { tree: {}, wrong: `This is not JSON: ${error.message}.` };
  }
}

/** Moves what fields can hold out of a tree; gives their contents by path. */
function contentsOf(fields, tree, units) {
  const contents = new Map();
  for (const one of fields) {
    const value = valueAt(tree, one.path);
    const content = value === undefined ? null : shown(one, value, units);
    if (content !== null) {
      contents.set(one.path, content);
      takeOut(tree, one.path);
    }
  }
  return contents;
}

/** Puts contents back into a tree; gives the paths that the tree already says something else of. */
function putContents(fields, contents, tree) {
  const twice = [];
  for (const one of fields) {
    const value = contents.has(one.path) ? written(one, contents.get(one.path)) : undefined;
    if (value !== undefined && !putAt(tree, one.path, value)) twice.push(one);
  }
  return twice;
}

class Draft {
  constructor(units, request = {}) {
    this.units = units;
    const tree = structuredClone(request);
    const points = valueAt(tree, `${LOAD}/points`);
    const listed = Array.isArray(points) && points.every(isObject);
    if (listed) takeOut(tree, `${LOAD}/points`);
    this.rows = (listed ? points : []).map((point) => this.rowOf(point));
    this.contents = contentsOf(FIELDS, tree, units);
    this.rest = restText(tree);
  }

  rowOf(point) {
    const contents = contentsOf(ALL_POINT_FIELDS, point, this.units);
    return { contents, rest: restText(point) };
  }

  /** The content of a field, made when it is first asked for. */
  content(contents, field) {
    if (!contents.has(field.path)) contents.set(field.path, { text: "", unit: this.unitFor(field) });
    const content = contents.get(field.path);
    if (field.kind === "quantity" && !content.unit) content.unit = this.unitFor(field);
    return content;
  }

  /** The unit that a field without one begins with. */
  unitFor(field) {
    if (field.kind !== "quantity") return undefined;
    return this.contents.get("units")?.text === "us" ? field.units.us : field.units.metric;
  }

  /** Empty fields begin with the units of the answer, once these are others. */
  takeUnits() {
    const all = [[FIELDS, this.contents], ...this.rows.map((row) => [ALL_POINT_FIELDS, row.contents])];
    for (const [fields, contents] of all) {
      for (const field of fields) {
        const content = contents.get(field.path);
        if (field.kind === "quantity" && content && !isFilled(field, content)) content.unit = this.unitFor(field);
      }
    }
  }

  get task() {
    return this.contents.get(`${LOAD}/task`)?.text || "raise";
  }

  /** Whether a field is shown: it belongs to the task, or something stands in it. */
  isShown(contents, field) {
    return !field.tasks || field.tasks.includes(this.task) || isFilled(field, contents.get(field.path));
  }

  addRow(like = null) {
    const contents = new Map([...(like?.contents ?? [])].map(([path, content]) => [path, structuredClone(content)]));
    for (const path of ["x", "y"]) if (contents.has(path)) Object.assign(contents.get(path), { text: "", touched: false });
    contents.set("id", { text: this.freeName() });
    this.rows.push({ contents, rest: like?.rest ?? "" });
  }

  freeName() {
    const taken = new Set(this.rows.map((row) => row.contents.get("id")?.text.trim()));
    let count = this.rows.length + 1;
    while (taken.has(String(count))) count += 1;
    return String(count);
  }

  /** The request that the draft stands for, and faults that keep it from being one. */
  build() {
    const faults = [];
    const said = (at, detail) => faults.push({ at, detail, code: "form" });
    const { tree, wrong } = restTree(this.rest);
    if (wrong) said("rest", wrong);
    for (const one of putContents(FIELDS, this.contents, tree)) {
      said("rest", `${one.path} stands here and in the field "${one.label}" too: keep one of them.`);
    }
    const points = this.rows.map((row, place) => {
      const point = restTree(row.rest);
      if (point.wrong) said(`rest-${place}`, point.wrong);
      for (const one of putContents(ALL_POINT_FIELDS, row.contents, point.tree)) {
        said(`rest-${place}`, `${one.path} stands here and in the table too: keep one of them.`);
      }
      return point.tree;
    });
    if (points.length > 0 && !putAt(tree, `${LOAD}/points`, points)) {
      said("rest", "load_case/points stands here and in the table too: keep one of them.");
    }
    return { request: tree, faults };
  }
}

/** Whether something stands in a field. */
function isFilled(field, content) {
  return content !== undefined && written(field, content) !== undefined;
}
