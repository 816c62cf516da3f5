// ---- Compare: the lift that stands in the form with one that was kept or pasted.

/** Every leaf of a tree by its path; list items by their id where they have one. */
function leaves(tree, path = "", found = new Map()) {
  if (Array.isArray(tree)) tree.forEach((item, place) => leaves(item, `${path}/${item?.id ?? item?.point ?? place}`, found));
  else if (isObject(tree) && !("unit" in tree && "value" in tree)) for (const [name, value] of Object.entries(tree)) leaves(value, path === "" ? name : `${path}/${name}`, found);
  else found.set(path, isObject(tree) ? `${tree.value} ${tree.unit}` : typeof tree === "string" ? tree : JSON.stringify(tree));
  return found;
}

/** Keys of both maps at which they differ. */
function differing(a, b, same = (x, y) => x === y) {
  return [...new Set([...a.keys(), ...b.keys()])].filter((key) => !same(a.get(key), b.get(key)));
}

function checksByName(answer) {
  return new Map(checksOf(answer.result).map((check) => [`${check.id}|${check.subject}|${check.scenario}|${check.phase ?? ""}`, check]));
}

/** Inputs that changed, as rows. */
function inputRows(kept, present) {
  const [a, b] = [leaves(kept.request), leaves(present.request)];
  return differing(a, b).map((key) => [key, a.get(key) ?? "(not stated)", b.get(key) ?? "(not stated)"]);
}

/** Checks that moved, those with another status first, then by how far. */
function checkRows(kept, present) {
  const [a, b] = [checksByName(kept), checksByName(present)];
  const same = (x, y) => x?.status === y?.status && Math.abs((x?.utilisation ?? 0) - (y?.utilisation ?? 0)) < 5e-4 && (x === undefined) === (y === undefined);
  const moved = (key) => Math.abs((b.get(key)?.utilisation ?? 0) - (a.get(key)?.utilisation ?? 0));
  const turned = (key) => a.get(key)?.status !== b.get(key)?.status;
  const keys = differing(a, b, same).sort((x, y) => turned(y) - turned(x) || moved(y) - moved(x));
  const side = (check) => (check ? [status(check.status), utilisation(check.utilisation)] : ["(not made)", "-"]);
  return keys.map((key) => {
    const check = a.get(key) ?? b.get(key);
    return [`${words(check.id)}, ${whereOf(check)}, ${words(check.scenario)}`, ...side(a.get(key)), ...side(b.get(key))];
  });
}

const MOVED_HEADS = ["Check", "Kept", "Util.", "Now", "Util."];
/** So many checks that moved are shown at once. */
const MOVED_SHOWN = 30;

class Compare {
  constructor({ service, say }) {
    Object.assign(this, { service, say, kept: null, present: null });
    this.body = make("div", {});
    this.wrong = make("p", { class: "fault", id: "compare-fault", role: "status" });
    this.area = make("textarea", { id: "compare-paste", rows: 3, spellcheck: "false", "aria-describedby": "compare-fault" });
    this.keep = make("button", { type: "button", part: "button", id: "compare-keep", onclick: () => this.take(this.present) }, "Keep the present one to compare with");
    this.root = make("details", { class: "section", id: "compare" },
      make("summary", { part: "heading" }, make("h2", {}, "Compare two proposals")),
      make("div", { class: "buttons" }, this.keep),
      make("div", { class: "field wide" }, make("label", { for: "compare-paste" }, "or paste a request, an answer or a permalink"), this.area, this.wrong),
      make("div", { class: "buttons" }, make("button", { type: "button", part: "button", id: "compare-take", onclick: () => this.paste() }, "Compare with this")),
      this.body);
    this.draw();
  }

  /** The answer for what stands in the form, or null while there is none. */
  show(present) {
    this.present = present;
    this.draw();
  }

  take(answer) {
    this.kept = answer;
    this.draw();
    this.say("Kept. What changes from now on is compared with it.");
  }

  async paste() {
    this.wrong.textContent = "";
    try {
      this.take(await this.answerOf(this.area.value.trim()));
    } catch (error) {
      this.kept = null;
      this.wrong.textContent = error instanceof SyntaxError ? `This is neither JSON nor a permalink: ${error.message}.` : error.message;
    }
  }

  async answerOf(pasted) {
    const [, link] = /(v1\/lift-plans\/[\w-]+)(?:\?.*)?$/.exec(pasted) ?? [];
    if (link && !pasted.startsWith("{")) return this.service().get(link);
    const said = JSON.parse(pasted);
    const isAnswer = isObject(said) && isObject(said.request) && isObject(said.result);
    if (isAnswer && said.operation !== "plan_lift") throw new Error(`This is an answer of ${said.operation}, not of plan_lift.`);
    return isAnswer ? said : this.service().post("v1/lift-plans", said);
  }

  draw() {
    const { kept, present } = this;
    this.keep.disabled = present === null;
    if (!kept) this.body.replaceChildren(make("p", { class: "hint" }, "Nothing is kept yet."));
    else if (!present) this.body.replaceChildren(make("p", {}, "One is kept. There is no result for what stands in the form now."));
    else this.body.replaceChildren(...this.both(kept, present));
  }

  both(kept, present) {
    const [inputs, checks] = [inputRows(kept, present), checkRows(kept, present)];
    const one = (answer) => [status(answer.verdict.status), ramsInWords(answer.result) || "no rams", answer.verdict.governing ? decided(answer.verdict.governing) : "-", money(answer.result.estimate?.total)];
    return [
      kept.catalogue?.digest === present.catalogue?.digest && kept.engine_version === present.engine_version ? null : make("p", { class: "loud" }, "They were worked out with different catalogues or versions."),
      table("Both", ["", "Verdict", "Rams", "Decided by", "Estimate"], [["kept", ...one(kept)], ["now", ...one(present)]]),
      inputs.length > 0 ? table(`${counted(inputs.length, "input", "inputs")} changed`, ["Input", "Kept", "Now"], inputs) : make("p", {}, "No input differs."),
      checks.length > 0 ? table(`${counted(checks.length, "check", "checks")} moved, those with another status first, then by how far`, MOVED_HEADS, checks.slice(0, MOVED_SHOWN), { numeric: [2, 4] }) : make("p", {}, "No check moved."),
      checks.length > MOVED_SHOWN ? make("details", { class: "all" }, make("summary", {}, `${checks.length - MOVED_SHOWN} more`), table("Checks that moved less", MOVED_HEADS, checks.slice(MOVED_SHOWN), { numeric: [2, 4] })) : null,
    ].filter(Boolean);
  }
}
