// ---- The sections of the form.

const LOAD = "load_case";
const LINE = "line_of_force";
const EVERYWHERE = "line_of_force/everywhere";
const FOUNDATION = "line_of_force/everywhere/foundation";

const LOAD_FIELDS = [
  text("title", "Title", { wide: true }),
  choice("units", "Units of the answer", ["metric", ["us", "US customary"]]),
  choice(`${LOAD}/task`, "Task", ["raise", "press", "pull"]),
  measured(`${LOAD}/weight`, "Weight", ["mass", "force"], "t|ton_us", RAISE),
  percent(`${LOAD}/weight_tolerance`, "Weight may be wrong by", { suffix: "%", hint: "Either way; by its origin if left out.", ...RAISE }),
  choice(`${LOAD}/origin`, "Weight and centre are", ["weighed", "calculated", "nameplate"], RAISE),
  long(`${LOAD}/travel`, "Travel", { hint: "How far it must move." }),
  place(`${LOAD}/centre_of_gravity/x`, "Centre of gravity x", RAISE),
  place(`${LOAD}/centre_of_gravity/y`, "Centre of gravity y", RAISE),
  place(`${LOAD}/centre_of_gravity/z`, "Centre of gravity z", { hint: "Above the plane of the points; without it horizontal force is not checked.", ...RAISE }),
  long(`${LOAD}/centre_of_gravity/tolerance`, "Centre may be off by", { hint: "x and y, either way; by its origin if left out.", ...RAISE }),
];

const SHARING_FIELDS = [
  choice(`${LOAD}/sharing`, "More than three points share", [["elastic", "elastically"], ["worst_equilibrium", "worst equilibrium"]], RAISE),
  long(`${LOAD}/level_tolerance`, "Level errors lie within", { hint: "Width of the band, for elastic sharing.", ...RAISE }),
  measured(`${LOAD}/support_stiffness`, "Stiffness of each support", ["stiffness"], "kN/mm|lbf/in", RAISE),
  percent(`${LOAD}/horizontal_share`, "Horizontal force", { suffix: "% of weight", hint: "2.5 % if left out.", ...RAISE }),
  angle(`${LOAD}/slope/angle`, "Slope", RAISE),
  measured(`${LOAD}/wind/pressure`, "Wind pressure", ["pressure"], "kPa|psf", RAISE),
  measured(`${LOAD}/wind/area`, "Wind area", ["area"], "m2|ft2", RAISE),
  place(`${LOAD}/wind/height`, "Middle of that area at", RAISE),
  number(`${LOAD}/dynamic_factor`, "Dynamic factor", { hint: "1 if left out: raised slowly, set down softly.", ...RAISE }),
];

const LINE_FIELDS = [
  choice(`${LINE}/design_basis/rules`, "Rules for timber, plates, concrete", [["nds_asd", "NDS, AISC, ACI"], ["eurocode", "Eurocode"], ["custom", "own allowable values"]]),
  field(`${LINE}/design_basis/wet_timber`, "Timber is wet (NDS)", "yes_no"),
  number(`${LINE}/design_basis/concrete_load_factor`, "Load factor of concrete (ACI)"),
  number(`${LINE}/design_basis/load_factor`, "Load factor (Eurocode)"),
  number(`${LINE}/design_basis/alpha_cc`, "alpha_cc (Eurocode)"),
  choice(`${EVERYWHERE}/soffit/material`, "Load's underside", ["steel", "concrete", "timber"]),
  stress(`${EVERYWHERE}/soffit/yield_strength`, "Yield strength of the underside"),
  angle(`${EVERYWHERE}/soffit_angle`, "Angle between underside and saddle"),
  long(`${EVERYWHERE}/off_centre`, "Load bears off the axis by"),
  angle(`${EVERYWHERE}/lean`, "Rams and stacks lean by"),
  ...["head_plate", "base_plate"].flatMap((plate) => {
    const name = plate === "head_plate" ? "Head plate" : "Base plate";
    return [
      long(`${EVERYWHERE}/${plate}/length`, `${name} length`), long(`${EVERYWHERE}/${plate}/width`, `${name} width`),
      long(`${EVERYWHERE}/${plate}/thickness`, `${name} thickness`), stress(`${EVERYWHERE}/${plate}/yield_strength`, `${name} yield strength`),
    ];
  }),
  choice(`${FOUNDATION}/material`, "Foundation", ["concrete_block", "concrete_slab", "steelwork", "ground"]),
  stress(`${FOUNDATION}/concrete_strength`, "Concrete strength (cylinder)"),
  long(`${FOUNDATION}/room_length`, "Concentric room, length"),
  long(`${FOUNDATION}/room_width`, "Concentric room, width"),
  long(`${FOUNDATION}/depth`, "Depth of concrete or mat"),
  force(`${FOUNDATION}/punching_resistance`, "Punching resistance of a slab"),
  stress(`${FOUNDATION}/yield_strength`, "Yield strength of steelwork"),
  place(`${FOUNDATION}/ground/length`, "Bears on ground, length"),
  place(`${FOUNDATION}/ground/width`, "Bears on ground, width"),
  measured(`${FOUNDATION}/ground/allowable`, "Ground may carry", ["pressure"], "kPa|psf"),
  choice(`${FOUNDATION}/ground/class`, "or class of ground", ["crystalline_bedrock", "sedimentary_rock", "gravel", "sand", "clay", "soft_or_fill"]),
  long(`${FOUNDATION}/ground/off_centre`, "Force off the middle of that area by"),
  force(`${FOUNDATION}/ground/own_weight`, "Weight of the foundation"),
  choice(`${LINE}/restraint/kind`, "Held sideways by", ["none", "guides", "bracing", "chocks", "lashings"]),
  force(`${LINE}/restraint/capacity`, "which takes"),
  long(`${LINE}/restraint/play`, "after a play of"),
];

const RAMS_FIELDS = [
  field("ram_set/everywhere/ram", "Ram to be verified", "entry", { list: "rams", hint: "The service proposes one if left out." }),
  number("ram_set/everywhere/count", "of it at each point", { hint: "1 if left out." }),
  number("settings/rams_per_point", "Most rams at a point"),
  percent("settings/capacity_limit", "Capacity that may be used", { suffix: "%", hint: "80 % if left out." }),
  percent("settings/stroke_limit", "Stroke that may be used", { suffix: "%", hint: "80 % if left out." }),
  choice("settings/stroke_use", "Limit on the stroke", [["limited", "holds"], ["whole_stroke", "whole stroke used"]]),
  long("settings/entry_gap", "Gap to slide a ram in"),
  long("settings/plates", "Thickness of all plates"),
  choice(`${LINE}/holding_valve`, "Load-holding valves", ["at_each_ram", "elsewhere"]),
  choice(`${LINE}/return_line`, "Return of double-acting rams", ["open", ["relief", "relief valve"], "can_be_blocked"]),
  measured(`${LINE}/return_relief`, "Relief on the return", ["pressure"], "bar|psi"),
  measured(`${LINE}/thermal_relief`, "Relief at the ram", ["pressure"], "bar|psi"),
  number(`${LINE}/oil_temperature_rise_k`, "Shut-in oil may warm by", { suffix: "K" }),
  choice(`${LINE}/handling`, "Rams are carried", ["by_hand", ["lifting_gear", "with lifting gear"]]),
  number(`${LINE}/persons`, "Persons that carry a ram"),
];

const PACKING_FIELDS = [
  choice("settings/packing_lifts", "Packing lifts", ["allowed", "not_allowed"]),
  long("settings/follow_up_gap", "Follow-up gap", { hint: "Greatest gap under the load; 25 mm if left out." }),
  long("settings/packing_gap", "Gap to slide a piece in"),
  long("settings/over_jack_allowance", "Over-jack allowance"),
  long("settings/level_tolerance", "Level tolerance"),
  field("settings/packing", "Packing pieces on site", "entries", { list: "packing", hint: "All of the catalogue if none is ticked.", wide: true }),
];

const CIRCUIT_FIELDS = [
  field("circuit/pump", "Pump", "entry", { list: "pumps", hint: "The service chooses pump and hoses if left out." }),
  number("circuit/pumps", "How many pumps", { hint: "1 if left out." }),
  field("circuit/hose", "Hose", "entry", { list: "hoses" }),
  number("circuit/hoses_in_series", "Hoses end to end", { hint: "1 if left out." }),
  choice("circuit/flow_division/kind", "Flow is divided by", [["manifold", "an open manifold"], ["split_flow", "split flow"], ["valve_per_point", "a valve at each point"]]),
  long("circuit/flow_division/held_within", "Points held within"),
  measured("circuit/oil/temperature", "Oil temperature", ["temperature"], "degC|degF"),
  choice("circuit/oil/grade", "Oil grade", ["vg_15", "vg_22", "vg_32", "vg_46", "vg_68"]),
];

const PAPER_FIELDS = ["project", "site", "number", "revision", "date"].map((name) => text(`papers/${name}`, words(name)));

const SECTIONS = [
  { id: "load", title: "The load", fields: LOAD_FIELDS, open: true },
  { id: "points", title: "Jacking points", fields: [], open: true },
  { id: "sharing", title: "Sharing, slope and wind", fields: SHARING_FIELDS },
  { id: "yard", title: "The yard and its rams", fields: [field("catalogue", "Catalogue", "entry", { list: "catalogues", hint: "demo_yard, which is invented, if left out." }), ...RAMS_FIELDS] },
  { id: "packing", title: "Packing lifts", fields: PACKING_FIELDS },
  { id: "circuit", title: "Pump, hoses and oil", fields: CIRCUIT_FIELDS },
  { id: "line", title: "Between load and ground", fields: LINE_FIELDS },
  { id: "papers", title: "Papers", fields: PAPER_FIELDS },
];

const FIELDS = SECTIONS.flatMap((section) => section.fields);

/** Examples to begin with. */
const BEGINNINGS = [["transformer", "Transformer off its plinth"], ["bedplate", "Bedplate relevelled"], ["link_press", "Bush pressed into a link"]];
