// ---- Looks of the results, of narrow pages and of paper.

const LOOKS_OF_RESULTS = `
.status { white-space: nowrap; font-weight: 600; }
.sign { display: inline-block; min-width: 1em; text-align: center; font-weight: 700; }
.status.pass { color: var(--_pass); } .status.caution { color: var(--_caution); }
.status.fail { color: var(--_fail); } .status.not_checked { color: var(--_open); }
.bar { vertical-align: middle; margin-right: 0.4rem; flex: none; }
.bar-all { fill: var(--_hair); } .bar-used { fill: var(--_accent); } .bar-over { fill: var(--_fail); } .bar-limit { fill: var(--_text); }
.util { display: inline-flex; align-items: center; white-space: nowrap; }

.standing { position: sticky; top: 0; z-index: 2; background: var(--_back); border-bottom: 1px solid var(--_hair); padding: 0.3rem 0; }
.verdict { display: flex; gap: 0.2rem 1.2rem; flex-wrap: wrap; align-items: center; border-left: 0.5rem solid var(--_line); background: var(--_surface); padding: 0.3rem 0.8rem; }
.verdict.pass { border-color: var(--_pass); } .verdict.caution { border-color: var(--_caution); }
.verdict.fail { border-color: var(--_fail); } .verdict.not_checked { border-color: var(--_open); }
.verdict p { margin: 0.1rem 0; }
.verdict .word { font-size: 1.5rem; text-transform: uppercase; letter-spacing: 0.02em; }
.decided { font-weight: 600; }
.state { min-height: 1.45rem; margin: 0.15rem 0 0; color: var(--_muted); font-size: 0.85rem; }
.stale .verdict { border-style: dashed; border-width: 2px 2px 2px 0.5rem; border-color: var(--_line); }
.results.stale > .result { opacity: 1; border-left: 2px dashed var(--_line); padding-left: 0.6rem; }

.result { margin: 0 0 1.4rem; }
.result > h2 { border-bottom: 2px solid var(--_line); padding-bottom: 0.15rem; margin-bottom: 0.4rem; }
.chosen { font-size: 1.1rem; font-weight: 600; }
.loud { font-weight: 600; }
.cautions { border: 2px solid var(--_caution); border-radius: var(--_round); padding: 0.5rem 0.8rem; }
.cautions > h2 { border: 0; margin: 0; }
.cautions ul { list-style: none; padding: 0; margin: 0.3rem 0 0; }
.cautions li { padding-left: 1.4rem; text-indent: -1.4rem; margin: 0.25rem 0; }
.cautions .sign { color: var(--_caution); text-indent: 0; }
.problem, .faults { border: 2px solid var(--_fail); border-radius: var(--_round); padding: 0.5rem 0.8rem; margin-bottom: 0.8rem; }
.faults ul { margin: 0.2rem 0 0.5rem; }
.faults li { overflow-wrap: anywhere; }
.problem .sign, .fault .sign { color: var(--_fail); }
.result table { font-size: 0.85rem; }
.set { white-space: nowrap; }
.links { display: flex; flex-wrap: wrap; gap: 0.3rem 1.4rem; list-style: none; padding: 0; }
.drawing { overflow-x: auto; color: var(--_text); }
.drawing svg { width: 100%; height: auto; min-width: 20rem; max-width: 46rem; display: block; }
.all, .sketch { margin: 0.4rem 0; }
.all > summary, .sketch > summary { color: var(--_accent); }

@container (min-width: 68rem) {
  .page { grid-template-columns: minmax(0, 1.5fr) minmax(0, 1fr); grid-template-rows: auto auto auto 1fr auto; align-items: start; }
  .begin, .standing, .across { grid-column: 1 / -1; }
  .entry { grid-area: 3 / 1; } .drawings { grid-area: 4 / 1; } .results { grid-area: 3 / 2 / 5 / 3; }
}
@container (max-width: 44rem) {
  .only-narrow { display: inline; }
  .grid, .grid tbody { display: block; }
  .grid thead, .grid thead tr { display: flex; flex-wrap: wrap; gap: 0.3rem 0.8rem; }
  .grid thead th { border: 0; }
  .grid thead th:not(:has(select)) { display: none; }
  .grid thead select { width: auto; min-height: 2rem; }
  .grid .row { display: grid; grid-template-columns: 1fr 1fr; gap: 0.4rem 0.8rem; border: 1px solid var(--_hair); border-radius: var(--_round); padding: 0.5rem; margin: 0.5rem 0; }
  .grid td { display: flex; gap: 0.3rem; align-items: end; border: 0; padding: 0; min-width: 0; }
  .grid td > .field { flex: 1; }
  .grid .field { min-width: 0 !important; }
  .grid label { position: static; width: auto; height: auto; clip-path: none; white-space: normal; }
  .grid .remove { grid-column: 1 / -1; }
  .util .bar { display: none; }
  #result-checks th[scope="row"] { min-width: 8rem; }
  .verdict .word { font-size: 1.2rem; }
  .standing { position: static; }
}
@media print {
  :host { color-scheme: light; font-size: 10pt; }
  .page { display: block; padding: 0; }
  .standing { position: static; border: 0; }
  .begin, .buttons, button, .remove, .state, #compare, #section-rest, .sketch:not([open]), .all:not([open]), .section:not(.used), .hint,
  .fields .field:has(> .input > input:placeholder-shown), .fields .field:has(> .input > select:not(.unit) > option[value=""]:checked),
  .tick:has(input:not(:checked)), .result:not(:has(> :not(h2, .all:not([open])))) { display: none !important; }
  .section::details-content { content-visibility: visible; display: block; }
  .section, .cautions, tr, .sketch { break-inside: avoid; }
  h2, h3, summary, caption { break-after: avoid; }
  .frame, .drawing { overflow: visible; }
  input:not([type="checkbox"]), select, textarea { border: 0; border-bottom: 1px solid var(--_hair); appearance: none; padding: 0; min-height: 0; }
  .grid thead select { border: 0; }
  a { color: inherit; }
  .drawing.dark svg { filter: invert(1) hue-rotate(180deg); }
}
`;

/** One sheet for all elements of a page, so that no page needs to allow inline style. */
const SHEET = new CSSStyleSheet();
SHEET.replaceSync(LOOKS + LOOKS_OF_RESULTS);
