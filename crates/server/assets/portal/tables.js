// ---- Results that are tables.

/** What each point carries. */
function carriedShown(answer) {
  const shares = answer.result.verification?.load_shares ?? answer.result.sizing?.load_shares;
  if (!shares) return [];
  const unit = unitShown(shares.points[0]?.share.unit ?? "");
  const rows = shares.points.map(({ point, share }) => [point, figure(share.least), figure(share.expected), figure(share.greatest)]);
  const margin = shares.tipping?.margin;
  return [part("carried", "What each point carries",
    table(`Least, expected and greatest in ${unit}`, ["Point", `Least, ${unit}`, `Expected, ${unit}`, `Greatest, ${unit}`], rows, { numeric: [1, 2, 3] }),
    make("p", {}, `By ${words(shares.method)}${shares.why ? `: ${shares.why}` : ""}.`),
    margin ? make("p", {}, `Margin to tipping, over ${shares.tipping.from} and ${shares.tipping.to}: ${quantity(margin)}.`) : null,
    ...(shares.advice ?? []).map((one) => make("p", {}, `What would gain: ${one.words}.`)))];
}

/** Worse first: by status, then by utilisation. */
function worse(a, b) {
  return STATUSES.indexOf(a.status) - STATUSES.indexOf(b.status) || (b.utilisation ?? -1) - (a.utilisation ?? -1);
}

function checkRow(check, more = "") {
  return [
    make("span", {}, words(check.id), make("span", { class: "where" }, ` ${whereOf(check)}${more}, ${words(check.scenario)}`)),
    status(check.status),
    make("span", { class: "util" }, check.utilisation === undefined ? null : bar(check.utilisation), utilisation(check.utilisation)),
    quantity(check.demand), quantity(check.limit),
  ];
}

/** So many kinds of check are shown at once, and more only if they did not pass. */
const WORST_SHOWN = 14;
const CHECK_HEADS = ["Check", "Status", "Util.", "Demand", "Limit"];

/** The worst of every kind of check; all of them on demand. */
function checksShown(answer) {
  const checks = checksOf(answer.result);
  if (checks.length === 0) return [];
  const kinds = grouped(checks, (check) => check.id).map((group) => [[...group].sort(worse)[0], group.length]);
  kinds.sort(([a], [b]) => worse(a, b));
  const rows = kinds.map(([check, count]) => checkRow(check, count > 1 ? ` (worst of ${count})` : ""));
  const loud = Math.max(WORST_SHOWN, kinds.filter(([check]) => check.status !== "pass").length);
  const all = make("details", { class: "all" }, make("summary", {}, `All ${checks.length} checks`));
  all.addEventListener("toggle", () => {
    if (all.open && all.children.length === 1) {
      all.append(table("All checks, worst first", CHECK_HEADS, [...checks].sort(worse).map((check) => checkRow(check)), { numeric: [2, 3, 4] }));
    }
  });
  return [part("checks", "Checks",
    table("Worst of each kind, worst first", CHECK_HEADS, rows.slice(0, loud), { numeric: [2, 3, 4] }),
    rows.length > loud ? make("details", { class: "all" }, make("summary", {}, `${rows.length - loud} more kinds, all passed`), table("The other kinds, worst of each", CHECK_HEADS, rows.slice(loud), { numeric: [2, 3, 4] })) : null,
    all)];
}

function packingShown(result) {
  const sequence = result.verification?.sequence;
  if (!sequence) return [];
  if (!sequence.cycles) return [part("packing", "Packing lifts", make("p", {}, sequence.reason ?? sequence.why ?? words(sequence.outcome)))];
  const pieces = (sequence.pieces ?? []).map(({ piece, count }) => `${count} × ${piece}`);
  const { totals } = sequence;
  return [part("packing", "Packing lifts",
    make("p", { class: "chosen" }, `${counted(sequence.cycles, "packing lift", "packing lifts")}, ending ${words(sequence.ending)}.`),
    make("p", {}, `${sequence.optimal ? "Nothing better exists" : `No sequence has fewer than ${sequence.lower_bound}`}: ${sequence.why}.`),
    make("p", {}, `Pieces, all stacks together: ${listed(pieces)}. Handled: ${sequence.pieces_handled} pieces, ${quantity(sequence.mass_handled)}. Highest stack ${quantity(sequence.greatest_stack)}.`),
    totals ? make("p", {}, `${counted(totals.steps, "step", "steps")}, of them ${counted(totals.hold_points, "hold point", "hold points")}; ${quantity(totals.oil)} of oil; about ${(totals.duration.value / 3600).toFixed(1)} h without the time of the pumps.`) : null,
    stepsShown(sequence.steps ?? []))];
}

function stepsShown(steps) {
  if (steps.length === 0) return null;
  const rows = steps.map((step) => [step.number, `${words(step.kind)}${step.hold_point ? " (hold)" : ""}`, step.text, step.check ?? ""]);
  return make("details", { class: "all" }, make("summary", {}, `All ${steps.length} steps`), table("Steps", ["No", "Step", "What is done", "Check"], rows));
}

function marginsShown(result) {
  const said = (result.verification?.margins ?? []).filter((one) => one.words);
  if (said.length === 0) return [];
  const kinds = grouped(said, (one) => one.words).map(([first]) => make("li", {}, make("strong", {}, `${words(first.check)}, ${whereOf(first)}`), `: ${first.words}.`));
  return [part("margins", "How much may change", make("ul", {}, kinds.slice(0, 4)),
    kinds.length > 4 ? make("details", { class: "all" }, make("summary", {}, `${kinds.length - 4} more`), make("ul", {}, kinds.slice(4))) : null)];
}

/** Why the others were refused, and what would make the nearest pass. */
function refusedShown(result) {
  const refusals = result.sizing?.refusals ?? [];
  if (refusals.length === 0) return [];
  const rows = refusals.map(({ check, models, nearest }) => [
    words(check), models, nearest ? `${nearest.rams_per_point ?? 1} × ${nearest.ram}, ${whereOf(nearest)}` : "-",
    utilisation(nearest?.utilisation), nearest?.would_pass ?? "-",
  ]);
  const shown = table("By the first check that fails", ["Check", "Models", "Nearest miss", "Util.", "What would make it pass"], rows, { numeric: [1, 3] });
  const open = result.ram_set.length === 0;
  return [part("refused", "Refused", open ? shown : make("details", { class: "all" }, make("summary", {}, "Rams that were refused, and the nearest miss of each check"), shown))];
}

function priceShown(result) {
  const { estimate } = result;
  if (!estimate) return [];
  const rows = (estimate.rows ?? []).map((row) => [row.text, money(row.amount)]);
  return [part("price", "Estimate",
    make("p", {}, estimate.total ? make("strong", {}, money(estimate.total)) : "No total: nothing is priced.",
      estimate.not_priced?.length > 0 ? ` Not in it: ${listed(estimate.not_priced.map((one) => words(one.item)))}.` : ""),
    rows.length > 0 ? make("details", { class: "all" }, make("summary", {}, "Rows of the estimate"), table("Rows of the estimate", ["What", "Amount"], rows, { numeric: [1] })) : null)];
}
