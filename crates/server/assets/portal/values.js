// ---- Values: where they stand in a request, and how they are written in a field.

const NUMBER = /^[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?$/;
const NUMBER_AND_UNIT = /^\s*([+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?)\s*([A-Za-z"'°].*?)\s*$/;

/** Whether a value is an object, neither list nor null. */
function isObject(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** The value at a path such as `load_case/weight`; undefined where there is none. */
function valueAt(tree, path) {
  return path.split("/").reduce((at, name) => (isObject(at) && Object.hasOwn(at, name) ? at[name] : undefined), tree);
}

/** Puts a value at a path; false where something else stands in the way. */
function putAt(tree, path, value) {
  const names = path.split("/");
  const last = names.pop();
  let at = tree;
  for (const name of names) {
    if (!Object.hasOwn(at, name)) at[name] = {};
    if (!isObject(at[name])) return false;
    at = at[name];
  }
  if (Object.hasOwn(at, last)) return false;
  at[last] = value;
  return true;
}

/** Takes a value out, with the objects that are left empty by that. */
function takeOut(tree, path) {
  const [name, ...rest] = path.split("/");
  if (rest.length > 0) takeOut(tree[name], rest.join("/"));
  if (rest.length === 0 || Object.keys(tree[name]).length === 0) delete tree[name];
}

/** A number with its point moved, digit for digit: 0.04 is 4 %. */
function shifted(text, places) {
  if (!NUMBER.test(text) || /e/i.test(text)) return text;
  return Number(`${text}e${places}`);
}

/** The units of some dimensions, each with the spellings that mean it. */
function unitsOf(units, dimensions) {
  return units.filter((unit) => dimensions.includes(unit.dimension));
}

/** What a field shows for a value, as `{ text, unit }`; null if the field cannot hold it. */
function shown(field, value, units) {
  switch (field.kind) {
    case "text":
    case "entry":
      return typeof value === "string" ? { text: value } : null;
    case "choice":
      return field.options.some(([word]) => word === value) ? { text: value } : null;
    case "yes_no":
      return typeof value === "boolean" ? { text: String(value) } : null;
    case "number":
      return typeof value === "number" ? { text: String(value) } : null;
    case "percent":
      return typeof value === "number" && !/e/.test(String(value)) ? { text: String(shifted(String(value), 2)) } : null;
    case "entries":
      return Array.isArray(value) && value.length > 0 && value.every((one) => typeof one === "string") ? { chosen: [...value] } : null;
    default:
      return shownQuantity(field, value, units);
  }
}

function shownQuantity(field, value, units) {
  if (isObject(value)) {
    const plain = Object.keys(value).sort().join() === "unit,value" && typeof value.value === "number" && typeof value.unit === "string";
    return plain ? shownQuantity(field, `${value.value} ${value.unit}`, units) : null;
  }
  if (typeof value !== "string") return null;
  const [, text, said] = NUMBER_AND_UNIT.exec(value) ?? [];
  const unit = unitsOf(units, field.of).find((one) => one.symbol === said || one.also.includes(said));
  return unit ? { text, unit: unit.symbol } : { text: value };
}

/** What a field's content is in a request; undefined where nothing stands in it. */
function written(field, content) {
  if (field.kind === "entries") return content.chosen?.length > 0 ? [...content.chosen] : undefined;
  const text = (content.text ?? "").trim();
  if (text === "") return undefined;
  switch (field.kind) {
    case "yes_no":
      return text === "true";
    case "number":
      return NUMBER.test(text) ? Number(text) : text;
    case "percent":
      return NUMBER.test(text) ? shifted(text, -2) : text;
    case "quantity":
      return !NUMBER.test(text) && NUMBER_AND_UNIT.test(text) ? text : `${text} ${content.unit}`;
    default:
      return text;
  }
}

/** A number for people: four figures, and all of them before the decimal point. */
function figure(value) {
  if (!Number.isFinite(value)) return "-";
  if (value === 0) return "0";
  if (Math.abs(value) >= 1000) return String(Math.round(value));
  return Math.abs(value) < 1e-3 ? value.toPrecision(4) : String(Number(value.toPrecision(4)));
}

function quantity(value) {
  return value === undefined || value === null ? "-" : `${figure(value.value)} ${unitShown(value.unit)}`;
}

/** A utilisation with two digits, rounded up as everywhere in the sheets. */
function utilisation(value) {
  return value === undefined || value === null ? "-" : (Math.ceil((value - 1e-9) * 100) / 100).toFixed(2);
}

/** Units as people write them. */
function unitShown(unit) {
  return unit === "1" ? "" : unit.replace(/(mm|cm|m|in|ft)([234])$/, (_, base, power) => base + { 2: "²", 3: "³", 4: "⁴" }[power]).replace("deg", "°");
}
