// ---- Looks. Colours and font are custom properties of the host page; every default keeps a contrast of 4.5 : 1.

const LOOKS = `
:host {
  color-scheme: light dark;
  display: block; container-type: inline-size;
  --_back: var(--ramwright-background, light-dark(#ffffff, #14171a));
  --_surface: var(--ramwright-surface, light-dark(#f2f4f6, #1e2328));
  --_text: var(--ramwright-text, light-dark(#1a1d21, #e8ebee));
  --_muted: var(--ramwright-muted, light-dark(#4d565f, #b4bdc6));
  --_line: var(--ramwright-line, light-dark(#76808a, #7d8994));
  --_hair: var(--ramwright-hair, light-dark(#d3d9df, #39424b));
  --_accent: var(--ramwright-accent, light-dark(#1d5a8c, #8cc1f0));
  --_pass: var(--ramwright-pass, light-dark(#1b6b3a, #7fd49a));
  --_caution: var(--ramwright-caution, light-dark(#7d5200, #f0c060));
  --_fail: var(--ramwright-fail, light-dark(#a8201a, #ff9d94));
  --_open: var(--ramwright-not-checked, light-dark(#62379a, #cbb0f5));
  --_font: var(--ramwright-font, system-ui, sans-serif);
  --_round: var(--ramwright-radius, 4px);
  background: var(--_back); color: var(--_text); font: 15px/1.45 var(--_font);
}
:host([theme="light"]) { color-scheme: light; }
:host([theme="dark"]) { color-scheme: dark; }
:host([hidden]) { display: none; }
* { box-sizing: border-box; }
[hidden] { display: none !important; }
.unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
h2, h3 { line-height: 1.25; margin: 0; }
h2 { font-size: 1.2rem; } h3 { font-size: 1rem; }
p { margin: 0.4rem 0; }
ul { margin: 0.4rem 0; padding-left: 1.2rem; } ul.plain { list-style: none; margin: 0; padding: 0; }
a { color: var(--_accent); }
code { font-family: ui-monospace, monospace; font-size: 0.9em; overflow-wrap: anywhere; }
.hint, .where { color: var(--_muted); font-size: 0.85rem; overflow-wrap: anywhere; }
:focus-visible { outline: 3px solid var(--_accent); outline-offset: 1px; }

.page { display: grid; gap: 1rem; grid-template-columns: minmax(0, 1fr); padding: 0.5rem; }
.begin { display: flex; flex-wrap: wrap; gap: 0.5rem; align-items: center; }
.buttons { display: flex; flex-wrap: wrap; gap: 0.5rem 1rem; align-items: center; margin: 0.5rem 0; }
button { font: inherit; color: var(--_text); background: var(--_surface); border: 1px solid var(--_line); border-radius: var(--_round); padding: 0.3rem 0.7rem; min-height: 2rem; cursor: pointer; }
button:hover:enabled { border-color: var(--_accent); color: var(--_accent); }
button:disabled { color: var(--_muted); cursor: default; border-style: dashed; }
button.small { padding: 0.1rem 0.5rem; }

.section { border: 1px solid var(--_hair); border-radius: var(--_round); margin: 0 0 0.6rem; padding: 0 0.7rem; background: var(--_back); }
.section[open] { padding-bottom: 0.7rem; }
.section.wrong { border-color: var(--_fail); }
summary { cursor: pointer; padding: 0.45rem 0; }
.section > summary > h2, .section > summary > h3 { display: inline; }
.filled { color: var(--_muted); font-size: 0.85rem; margin-left: 0.6rem; }

.fields { display: grid; grid-template-columns: repeat(auto-fill, minmax(13rem, 1fr)); gap: 0.6rem 1rem; align-items: start; }
fieldset { border: 1px solid var(--_hair); border-radius: var(--_round); margin: 0.6rem 0 0; padding: 0.4rem 0.7rem 0.7rem; min-width: 0; }
legend { font-weight: 600; padding: 0 0.3rem; }
.field { display: flex; flex-direction: column; gap: 0.15rem; min-width: 0; }
.wide { grid-column: 1 / -1; }
label { font-size: 0.9rem; }
.input { display: flex; gap: 0.3rem; align-items: center; min-width: 0; }
input:not([type="checkbox"]), select, textarea {
  font: inherit; color: var(--_text); background: var(--_back); border: 1px solid var(--_line); border-radius: var(--_round);
  padding: 0.25rem 0.4rem; min-height: 2rem; min-width: 0; width: 100%;
}
textarea { font: 0.85rem/1.4 ui-monospace, monospace; resize: vertical; }
select.unit { width: auto; flex: none; max-width: 5.5rem; }
.figure { text-align: right; font-variant-numeric: tabular-nums; }
.suffix { color: var(--_muted); font-size: 0.85rem; white-space: nowrap; }
[aria-invalid="true"] { border: 2px solid var(--_fail); }
.fault { color: var(--_fail); font-size: 0.85rem; overflow-wrap: anywhere; }
.fault:empty { display: none; }
.tick { display: inline-flex; gap: 0.3rem; align-items: center; }
.tick-list { display: grid; grid-template-columns: repeat(auto-fill, minmax(9.5rem, 1fr)); gap: 0.1rem 0.8rem; }

.frame { overflow-x: auto; max-width: 100%; }
table { border-collapse: collapse; width: 100%; font-size: 0.9rem; }
caption { text-align: left; color: var(--_muted); font-size: 0.85rem; padding: 0.2rem 0; }
th, td { text-align: left; vertical-align: top; padding: 0.25rem 0.5rem 0.25rem 0; border-bottom: 1px solid var(--_hair); font-weight: 400; }
thead th { border-bottom: 1px solid var(--_line); vertical-align: bottom; font-weight: 600; }
.number { text-align: right; font-variant-numeric: tabular-nums; }
.grid th, .grid td { padding: 0.2rem 0.2rem 0.2rem 0; }
.grid thead th { font-size: 0.8rem; }
.grid thead select { display: block; font-size: 0.8rem; min-height: 1.6rem; padding: 0 0.1rem; width: 100%; min-width: 3.4rem; }
.grid .field { min-width: 3.6rem; }
.grid [data-path="base"], .grid [data-path="mounting"], .grid [data-path="axis"], .grid [data-path="head"] { min-width: 6rem; }
.grid .fault { min-width: 8rem; }
.grid label { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
.only-narrow { display: none; }
`;
