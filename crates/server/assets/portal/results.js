// ---- Results: what a lift plan says, each part from the answer as it came.

/** Every part of the results, in order of importance. */
function resultsShown(answer, service) {
  const { result } = answer;
  return [
    ...ramsShown(answer),
    ...notCheckedShown(answer),
    cautionsShown(answer.cautions),
    ...carriedShown(answer),
    ...checksShown(answer),
    ...packingShown(result),
    ...marginsShown(result),
    ...refusedShown(result),
    ...priceShown(result),
    linksShown(answer, service),
  ].filter(Boolean);
}

/** A part of the results under its heading. */
function part(id, title, ...content) {
  return make("section", { class: "result", id: `result-${id}`, "aria-labelledby": `result-${id}-title` },
    make("h2", { id: `result-${id}-title`, part: "heading" }, title), ...content);
}

/** All checks that the verdict counts. */
function checksOf(result) {
  return [...(result.verification?.checks ?? []), ...(result.circuit?.checks ?? []), ...(result.open_checks ?? [])];
}

/** The verdict in words: status, what decides it, how many checks. */
function verdictShown(answer) {
  const { verdict, result } = answer;
  const none = result.ram_set.length === 0;
  const { governing, counts } = verdict;
  return make("div", { class: `verdict ${verdict.status}`, part: "verdict" },
    make("p", { class: "word" }, status(verdict.status)),
    make("div", {},
      make("p", { class: "decided" }, none ? "Nothing in this yard does it. What stands in the way is listed under Refused." : decided(governing)),
      none ? null : make("p", {}, ramsInWords(result), " · ", STATUSES.map((one) => `${counts[one]} ${words(one)}`).join(", "))));
}

/** What stands in its place while there is none. */
function noVerdict(text) {
  return make("div", { class: "verdict" }, make("p", { class: "word" }, "No result"), make("p", { class: "decided" }, text));
}

function decided(governing) {
  if (!governing) return "No check decides it.";
  const rate = governing.utilisation === undefined ? words(governing.status) : `utilisation ${utilisation(governing.utilisation)}`;
  return `Decided by ${words(governing.check)}, ${whereOf(governing)}, ${words(governing.scenario)}: ${rate}.`;
}

/** Such as `1 x hazel-07 at each of points 1, 2`. */
function ramsInWords(result) {
  const groups = new Map();
  for (const { point, ram, count } of result.ram_set) {
    const key = `${count} × ${ram}`;
    groups.set(key, [...(groups.get(key) ?? []), point]);
  }
  return [...groups].map(([key, points]) => `${key} at ${points.length === 1 ? "point" : "each of points"} ${listed(points)}`).join("; ");
}

function ramsShown(answer) {
  const { result } = answer;
  if (result.ram_set.length === 0) return [];
  const chosen = result.sizing?.options?.find((option) => option.recommended);
  const others = result.sizing?.options ?? [];
  const reason = result.sizing?.reason;
  const facts = chosen ? table("Ram sets that fit, best first",
    ["Set", "Verdict", "Util.", "Capacity", "Stroke", "Closed height", "Packing lifts", "Mass", "Cost"],
    others.map((option) => [make("span", { class: "set" }, option.set), status(option.verdict.status), utilisation(option.utilisation),
      ...["capacity", "stroke", "closed_height"].map((name) => listed(option.models.map((model) => quantity(model[name])))),
      option.packing_lifts ?? "-", quantity(option.mass), money(option.cost)]),
    { numeric: [2, 3, 4, 5, 6, 7, 8] }) : null;
  return [part("rams", "Rams", make("p", { class: "chosen" }, ramsInWords(result), "."), reason ? make("p", {}, reason, /[.]$/.test(reason) ? "" : ".") : null, facts)];
}

function money(value) {
  return value ? `${value.currency} ${value.amount.toFixed(2)}` : "-";
}

/** What was not checked, as large as what was. */
function notCheckedShown(answer) {
  const open = checksOf(answer.result).filter((check) => check.status === "not_checked");
  if (answer.result.ram_set.length === 0) return [];
  if (open.length === 0) {
    return [part("not-checked", "Not checked", make("p", {}, "Nothing of what this version checks was left open. What it does not cover at all stands under Cautions."))];
  }
  const groups = grouped(open, (check) => `${check.id}|${listed(check.missing ?? []).replace(OF_ONE_POINT, "points/…/")}`);
  const rows = groups.map((checks) => [words(checks[0].id), listed([...new Set(checks.map(whereOf))]), missingShown(checks)]);
  return [part("not-checked", "Not checked",
    make("p", { class: "loud" }, status("not_checked"), ` ${counted(open.length, "check was", "checks were")} not made: nobody knows whether they pass. State what is missing.`),
    table("Checks not made, and what each needs", ["Check", "At", "Missing"], rows))];
}

const OF_ONE_POINT = /points\/[^/ ]+\//g;

/** What checks of one kind lack: the way to each field that would settle it, and its path. */
function missingShown(checks) {
  const [{ missing = [], note }] = checks;
  const way = (path) => {
    const name = labelOf(path);
    const shown = make("code", {}, checks.length > 1 ? path.replace(OF_ONE_POINT, "points/…/") : path);
    return [name ? make("a", { href: "#", "data-path": path }, name) : null, name ? " " : null, shown];
  };
  const one = (text) => text.split(" or ").flatMap((path, place) => [place > 0 ? " or " : null, ...way(path)]);
  return make("ul", { class: "plain" }, missing.map((text) => make("li", {}, one(text))), note ? make("li", {}, note) : null);
}

/** The label of the first field at or under a path, points by their names; nothing where there is none. */
function labelOf(path) {
  const [, within] = /^load_case\/points\/[^/]+\/(.*)$/.exec(path) ?? [];
  const fields = within === undefined ? FIELDS : ALL_POINT_FIELDS;
  const own = within ?? path;
  return fields.find((field) => field.path === own || field.path.startsWith(`${own}/`))?.label;
}

function cautionsShown(cautions) {
  return make("section", { class: "result cautions", id: "result-cautions", "aria-labelledby": "result-cautions-title" },
    make("h2", { id: "result-cautions-title", part: "heading" }, "Cautions"),
    make("ul", {}, cautions.map((caution) => make("li", {}, make("span", { class: "sign", "aria-hidden": "true" }, "! "), caution.text))));
}

/** Lists of what is alike, in the order of the first of each. */
function grouped(list, keyOf) {
  const groups = new Map();
  for (const one of list) groups.set(keyOf(one), [...(groups.get(keyOf(one)) ?? []), one]);
  return [...groups.values()];
}

/** What is assumed, points of one kind together. */
function assumptionsShown(assumptions) {
  const groups = grouped(assumptions, (one) => `${one.field.replace(/points\/\d+\//, "points//")}|${one.text}|${JSON.stringify(one.value)}`);
  const item = (group) => {
    const [first] = group;
    const many = group.length > 1 ? `, ${group.length} points` : "";
    return make("li", {}, first.text, first.value ? make("strong", {}, ` ${quantity(first.value)}`) : null,
      make("span", { class: "where" }, ` ${group.length > 1 ? first.field.replace(/points\/\d+\//, "points/…/") : first.field}${many}; ${first.source?.text ?? ""}`));
  };
  return make("ul", {}, groups.map(item));
}

function linksShown(answer, service) {
  const { permalink, permalink_note: note } = answer;
  const digest = make("p", { class: "where" }, `${answer.engine_version}, defaults ${answer.defaults}, request ${answer.request_digest}, result ${answer.result_digest}`);
  if (!permalink) return part("links", "Sheets and data", make("p", {}, `No address: ${note}.`), digest);
  const at = (query) => service.address(permalink + query);
  const link = (query, text) => make("li", {}, make("a", { href: at(query), target: "_blank", rel: "noopener" }, text));
  return part("links", "Sheets and data",
    make("ul", { class: "links" }, link("?view=calculation", "Calculation"), link("?view=site_sheet", "Site sheet"), link("?format=csv", "CSV"), link("?format=json", "JSON"), link("", "Permalink")),
    digest);
}
