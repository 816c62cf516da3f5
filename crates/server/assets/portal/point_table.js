// ---- The table of jacking points.

/** The columns that are shown for a draft. */
function columnsOf(draft, withExtra) {
  const filled = (field) => draft.rows.some((row) => isFilled(field, row.contents.get(field.path)));
  return POINT_FIELDS.filter((field) => filled(field) || ((!field.tasks || field.tasks.includes(draft.task)) && (!field.extra || withExtra)));
}

/** The unit of a column: that of the first row that has one; what is in another unit shows it in its cell. */
function columnUnit(draft, field) {
  const contents = draft.rows.map((row) => draft.content(row.contents, field));
  const unit = contents.find((content) => content.text?.trim())?.unit ?? contents[0]?.unit ?? draft.unitFor(field);
  for (const content of contents) {
    if (content.unit === unit) continue;
    if (NUMBER.test(content.text?.trim() ?? "")) content.text = `${content.text.trim()} ${content.unit}`;
    content.unit = unit;
  }
  return unit;
}

function headOf(around, field) {
  if (field.kind !== "quantity") return make("th", { scope: "col" }, field.label);
  const { draft } = around;
  const choose = (unit) => draft.rows.forEach((row) => { draft.content(row.contents, field).unit = unit; });
  return make("th", { scope: "col", title: field.hint },
    field.label, " ", unitSelect(around, field, columnUnit(draft, field), `Unit of ${field.label}`, `column-${field.path.replaceAll("/", "-")}-unit`, choose));
}

/** The table with its buttons. `table` remembers whether all columns are asked for. */
class PointTable {
  constructor(around, say) {
    Object.assign(this, { around, say, withExtra: false });
    this.root = make("div", { class: "points" });
    this.draw();
  }

  draw() {
    const { draft } = this.around;
    const columns = columnsOf(draft, this.withExtra);
    const rows = draft.rows.map((row, place) => this.row(row, place, columns));
    this.root.replaceChildren(
      rows.length > 0
        ? make("div", { class: "frame", tabindex: "0", role: "region", "aria-label": "Jacking points" },
          make("table", { class: "grid", part: "table" }, make("caption", { class: "unseen" }, "Jacking points"),
            make("thead", {}, make("tr", {}, columns.map((field) => headOf(this.around, field)), make("th", { scope: "col" }, unseen("Remove")))),
            make("tbody", {}, rows)))
        : make("p", { class: "hint" }, "No point yet."),
      this.buttons(), ...this.perPoint());
  }

  row(row, place, columns) {
    const name = row.contents.get("id")?.text || String(place + 1);
    return make("tr", { class: "row" },
      columns.map((field) => make("td", {}, control(this.around, row.contents, field, `p${place}`, true), this.narrowUnit(field))),
      make("td", { class: "remove" }, make("button", { type: "button", part: "button", class: "small", id: `p${place}-remove`, "aria-label": `Remove point ${name}`, onclick: () => this.remove(place, name) }, "✕", make("span", { class: "only-narrow" }, ` Remove point ${name}`))));
  }

  /** Where the table is too narrow for heads, each cell says its unit. */
  narrowUnit(field) {
    return field.kind === "quantity" ? make("span", { class: "only-narrow suffix", "aria-hidden": "true" }, unitShown(columnUnit(this.around.draft, field))) : null;
  }

  buttons() {
    const { draft } = this.around;
    const last = draft.rows.at(-1);
    const more = make("input", { type: "checkbox", id: "points-extra", checked: this.withExtra, onchange: () => { this.withExtra = more.checked; this.draw(); this.focus("points-extra"); } });
    return make("div", { class: "buttons" },
      make("button", { type: "button", part: "button", id: "points-add", onclick: () => this.add(null) }, "Add a point"),
      last ? make("button", { type: "button", part: "button", id: "points-copy", onclick: () => this.add(last) }, "Add one like the last") : null,
      make("label", { class: "tick" }, more, " All columns"));
  }

  /** What does not fit into a row: the fit of a press, and the JSON of all else. */
  perPoint() {
    const { draft } = this.around;
    const frame = draft.task !== "raise";
    return draft.rows.flatMap((row, place) => {
      const name = row.contents.get("id")?.text || String(place + 1);
      const filled = FIT_FIELDS.some((field) => isFilled(field, row.contents.get(field.path)));
      const fit = frame || filled
        ? make("fieldset", { class: "fields" }, make("legend", {}, `Force at point ${name}, estimated from an interference fit`),
          FIT_FIELDS.map((field) => control(this.around, row.contents, field, `p${place}`)))
        : null;
      const rest = row.rest !== "" || this.withExtra ? restControl(this.around, row, `rest-${place}`, `Everything else of point ${name} (JSON)`) : null;
      return [fit, rest].filter(Boolean);
    });
  }

  add(like) {
    const { draft } = this.around;
    draft.addRow(like);
    this.draw();
    this.focus(`p${draft.rows.length - 1}-id`);
    this.say(`Point ${draft.rows.at(-1).contents.get("id").text} added, ${counted(draft.rows.length, "point", "points")}.`);
    this.around.changed(null);
  }

  remove(place, name) {
    const { draft } = this.around;
    draft.rows.splice(place, 1);
    this.draw();
    const next = Math.min(place, draft.rows.length - 1);
    this.focus(next < 0 ? "points-add" : `p${next}-remove`);
    this.say(`Point ${name} removed, ${counted(draft.rows.length, "point", "points")} left.`);
    this.around.changed(null);
  }

  focus(id) {
    this.root.querySelector(`#${CSS.escape(id)}`)?.focus();
  }
}

/** An editor for what has no field. */
function restControl(around, holder, id, label) {
  const area = make("textarea", {
    id, rows: Math.min(14, Math.max(3, holder.rest.split("\n").length)), spellcheck: "false", "aria-describedby": `${id}-fault`,
    oninput: () => { holder.rest = area.value; around.changed(null); },
  });
  area.value = holder.rest;
  return make("div", { class: "field wide" }, make("label", { for: id }, label), area, make("span", { class: "fault", id: `${id}-fault` }));
}
