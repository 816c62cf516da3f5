// ---- Fields: what the form can hold, each with its path in a request.

/** A field: path, label, kind, and what else the kind needs. `tasks` are those for which it is shown when empty. */
function field(path, label, kind, more = {}) {
  return { path, label, kind, ...more };
}

/** A quantity of one of some dimensions; `units` are those that an empty field offers first, metric and us. */
function measured(path, label, of, units, more = {}) {
  const [metric, us] = units.split("|");
  return field(path, label, "quantity", { of, units: { metric, us: us ?? metric }, ...more });
}

const long = (path, label, more) => measured(path, label, ["length"], "mm|in", more);
const place = (path, label, more) => measured(path, label, ["length"], "m|ft", more);
const force = (path, label, more) => measured(path, label, ["force"], "kN|kip", more);
const stress = (path, label, more) => measured(path, label, ["pressure"], "MPa|ksi", more);
const angle = (path, label, more) => measured(path, label, ["angle"], "deg", more);
const number = (path, label, more) => field(path, label, "number", more);
const percent = (path, label, more) => field(path, label, "percent", more);
const text = (path, label, more) => field(path, label, "text", more);

/** A choice among words; those that say more than the word itself are given as `word: what it says`. */
function choice(path, label, options, more = {}) {
  const pairs = options.map((option) => (Array.isArray(option) ? option : [option, words(option)]));
  return field(path, label, "choice", { options: pairs, ...more });
}

const RAISE = { tasks: ["raise"] };
const FRAME = { tasks: ["press", "pull"] };

/** The fields of one jacking point, in the order of the table's columns. `extra` stand in the table when asked for or filled in. */
const POINT_FIELDS = [
  text("id", "Name"),
  place("x", "x", RAISE),
  place("y", "y", RAISE),
  long("clearance", "Clearance", { hint: "Height under the load where the ram goes, at the start.", ...RAISE }),
  long("daylight", "Daylight", { hint: "From where the ram's foot bears to what the work lies on.", ...FRAME }),
  long("work_height", "Height of the work", FRAME),
  long("packing_clearance", "Clearance for packing", { hint: "Where the holding stack goes; the clearance if left out.", extra: true, ...RAISE }),
  force("limit", "Its limit", { hint: "Force that the point on the load may take." }),
  force("foundation_limit", "Foundation limit", { hint: "Force that what is under it may take." }),
  long("pad/length", "Pad length", { hint: "Plan size of what the rams stand on." }),
  long("pad/width", "Pad width"),
  choice("base", "Stands on", ["steel", "concrete", "soft"]),
  choice("head", "Head", ["free", "restrained"], { extra: true, tasks: ["raise", "press", "pull"] }),
  choice("mounting", "Mounting", [["base", "on its base"], ["front_flange", "front flange"], "pins"], FRAME),
  choice("axis", "Axis", ["vertical", "horizontal", "inclined"], FRAME),
  measured("stiffness", "Stiffness", ["stiffness"], "kN/mm|lbf/in", { extra: true }),
  place("packing_x", "Packing at x", { extra: true, ...RAISE }),
  place("packing_y", "Packing at y", { extra: true, ...RAISE }),
  force("stated_reaction/expected", "Stated reaction", { extra: true, hint: "From somebody's own analysis: at every point or at none." }),
];

/** The fields of a fit by which the force at a point in a frame is estimated. */
const FIT = "estimated_reaction/interference_fit";
const FIT_FIELDS = [
  choice(`${FIT}/interference/measure`, "Interference is given", [["diametral", "on the diameter"], ["radial", "on the radius"]]),
  long(`${FIT}/interference/least`, "Least interference"),
  long(`${FIT}/interference/greatest`, "Greatest interference"),
  long(`${FIT}/joint_diameter`, "Diameter of the joint"),
  long(`${FIT}/joint_length`, "Length of the joint"),
  long(`${FIT}/hub_outside_diameter`, "Outside diameter of the hub"),
  long(`${FIT}/shaft_bore`, "Bore of the shaft", { hint: "Solid if left out." }),
  stress(`${FIT}/hub_yield`, "Yield strength of the hub", { hint: "Without it the hub is not checked." }),
  number(`${FIT}/friction/least`, "Least friction"),
  number(`${FIT}/friction/greatest`, "Greatest friction"),
  number(`${FIT}/after_service_factor`, "Factor after long service", { hint: "For pulling; 1 if left out." }),
];

const ALL_POINT_FIELDS = [...POINT_FIELDS, ...FIT_FIELDS];
