// ---- Words for ids.

const OWN_WORDS = {
  not_checked: "not checked", us: "US customary", set: "the set", load: "the load", ram: "the ram", as_planned: "as planned",
};

/** The word for an id: its own, else the id with spaces. */
function words(id) {
  return Object.hasOwn(OWN_WORDS, id) ? OWN_WORDS[id] : String(id).replaceAll("_", " ");
}

/** Where a check was made. */
function whereOf(check) {
  const named = ["load", "set", "pump", "hose", "ram"].includes(check.subject) || !/^[\w-]{1,12}$/.test(check.subject);
  return named ? words(check.subject) : `point ${check.subject}`;
}

/** Several names in one line. */
function listed(names) {
  return names.join(", ");
}

/** How many of something. */
function counted(count, one, many) {
  return `${count} ${count === 1 ? one : many}`;
}
