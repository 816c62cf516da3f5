// ---- Elements of the page.

/** Makes an element: attributes by name, `on…` as listeners, true and false as present and absent. */
function make(tag, attributes = {}, ...children) {
  const one = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) one.addEventListener(name.slice(2), value);
    else if (value === true) one.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) one.setAttribute(name, String(value));
  }
  one.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== false));
  return one;
}

/** Text that is read aloud and not seen. */
function unseen(text) {
  return make("span", { class: "unseen" }, text);
}

/** A table with its caption, heads of columns and rows of cells; what is no element becomes text. */
function table(caption, heads, rows, { numeric = [], label = null } = {}) {
  const cells = (row, tag) =>
    row.map((cell, place) => make(place === 0 && tag === "td" ? "th" : tag, {
      scope: tag === "th" ? "col" : place === 0 ? "row" : null,
      class: numeric.includes(place) ? "number" : null,
    }, cell));
  return make("div", { class: "frame", tabindex: "0", role: "region", "aria-label": label ?? caption },
    make("table", { part: "table" },
      make("caption", {}, caption),
      make("thead", {}, make("tr", {}, cells(heads, "th"))),
      make("tbody", {}, rows.map((row) => make("tr", {}, cells(row, "td"))))));
}

const SIGNS = { pass: "✓", caution: "!", fail: "✕", not_checked: "?" };
const STATUSES = ["fail", "not_checked", "caution", "pass"];

/** A status as sign, word and colour. */
function status(word) {
  return make("span", { class: `status ${word}` },
    make("span", { class: "sign", "aria-hidden": "true" }, SIGNS[word] ?? "?"), " ", words(word));
}

/** A bar for a utilisation; full at 1, hatched and marked beyond. */
function bar(utilisation) {
  const space = "http://www.w3.org/2000/svg";
  const drawn = (name, attributes) => {
    const one = document.createElementNS(space, name);
    for (const [key, value] of Object.entries(attributes)) one.setAttribute(key, value);
    return one;
  };
  const picture = drawn("svg", { viewBox: "0 0 120 10", width: "60", height: "8", "aria-hidden": "true", class: "bar" });
  const long = Math.max(0, Math.min(utilisation, 1.2)) * 100;
  picture.append(
    drawn("rect", { x: 0, y: 0, width: 100, height: 10, class: "bar-all" }),
    drawn("rect", { x: 0, y: 0, width: long, height: 10, class: utilisation > 1 ? "bar-over" : "bar-used" }),
    drawn("rect", { x: 99, y: 0, width: 2, height: 10, class: "bar-limit" }));
  return picture;
}
