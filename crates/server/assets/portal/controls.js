// ---- Controls: one for each field, with label, unit, hint and the place for its fault.

/** The id of a field's control; `scope` tells rows apart. */
function idOf(scope, field) {
  return `${scope}-${field.path.replaceAll("/", "-")}`;
}

/** What every control needs to know of the form around it. */
class Around {
  constructor({ draft, lists, changed }) {
    Object.assign(this, { draft, lists, changed });
  }
}

/** A control with its label around it; `compact` in cells of the table, whose column head has the unit. */
function control(around, contents, field, scope, compact = false) {
  const content = around.draft.content(contents, field);
  const id = idOf(scope, field);
  if (field.kind === "entries") return ticks(around, content, field, id);
  const input = inputOf(around, content, field, id);
  const about = [field.hint && !compact ? `${id}-hint` : null, `${id}-fault`].filter(Boolean).join(" ");
  input.setAttribute("aria-describedby", about);
  return make("div", { class: `field${field.wide ? " wide" : ""}`, part: "field", "data-path": field.path },
    make("label", { for: id }, field.label, field.suffix && compact ? ` (${field.suffix})` : null),
    make("span", { class: "input" }, input, compact ? null : unitOf(around, content, field, id)),
    field.hint && !compact ? make("span", { class: "hint", id: `${id}-hint` }, field.hint) : null,
    make("span", { class: "fault", id: `${id}-fault` }));
}

function inputOf(around, content, field, id) {
  const pairs = optionsOf(around, content, field);
  if (pairs) {
    const select = make("select", { id, onchange: () => { content.text = select.value; content.touched = true; around.changed(field); } },
      pairs.map(([word, label]) => make("option", { value: word, selected: word === (content.text ?? "") }, label)));
    return select;
  }
  const input = make("input", {
    id, type: "text", placeholder: " ", autocomplete: "off", spellcheck: "false", value: content.text ?? "",
    inputmode: field.kind === "text" ? null : "decimal",
    class: field.kind === "text" ? null : "figure",
    oninput: () => { content.text = input.value; content.touched = true; around.changed(field); },
  });
  return input;
}

/** The options of a select; null for fields that are typed. */
function optionsOf(around, content, field) {
  const none = ["", field.kind === "entry" ? "(left to the service)" : "(not stated)"];
  if (field.kind === "choice") return [none, ...field.options];
  if (field.kind === "yes_no") return [none, ["true", "yes"], ["false", "no"]];
  if (field.kind !== "entry") return null;
  const known = around.lists.entries(field.list, around.draft);
  const own = content.text ?? "";
  const strange = own !== "" && !known.some(([id]) => id === own) ? [[own, `${own} (not in this catalogue)`]] : [];
  return [none, ...known, ...strange];
}

/** The unit of a quantity to choose; elsewhere what stands behind the number. */
function unitOf(around, content, field, id) {
  if (field.kind !== "quantity") return field.suffix ? make("span", { class: "suffix" }, field.suffix) : null;
  return unitSelect(around, field, content.unit, `Unit of ${field.label}`, `${id}-unit`, (unit) => { content.unit = unit; });
}

function unitSelect(around, field, now, label, id, choose) {
  const units = unitsOf(around.draft.units, field.of);
  const known = units.some((unit) => unit.symbol === now) ? units : [{ symbol: now }, ...units];
  const select = make("select", { id, class: "unit", "aria-label": label, onchange: () => { choose(select.value); around.changed(field); } },
    known.map((unit) => make("option", { value: unit.symbol, selected: unit.symbol === now }, unitShown(unit.symbol))));
  return select;
}

/** Several entries of a catalogue to tick, in its order. */
function ticks(around, content, field, id) {
  content.chosen ??= [];
  const known = around.lists.entries(field.list, around.draft);
  const order = (one) => known.findIndex(([name]) => name === one);
  const strange = content.chosen.filter((one) => order(one) < 0).map((one) => [one, `${one} (not in this catalogue)`]);
  const toggle = (one, is) => {
    content.chosen = content.chosen.filter((other) => other !== one);
    if (is) {
      const after = content.chosen.findIndex((other) => order(one) < order(other));
      content.chosen.splice(after < 0 ? content.chosen.length : after, 0, one);
    }
    around.changed(field);
  };
  return make("fieldset", { class: "field wide ticks", id, tabindex: "-1", "data-path": field.path, "aria-describedby": `${id}-fault` },
    make("legend", {}, field.label), make("span", { class: "hint" }, field.hint),
    make("div", { class: "tick-list" }, [...known, ...strange].map(([one, label]) => make("label", { class: "tick" },
      make("input", { type: "checkbox", value: one, checked: content.chosen.includes(one), onchange: (event) => toggle(one, event.target.checked) }),
      " ", label))),
    make("span", { class: "fault", id: `${id}-fault` }));
}
