// Posts every text to every way in that reads JSON, and holds the answers against what the name of the text says: y_ is JSON,
// n_ is none, i_ may be taken or refused.
// usage: node json_texts.mjs TEXTS.mjs ADDRESS EXAMPLES
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [, , textsFile, address, examples] = process.argv;
const texts = (await import(pathToFileURL(textsFile))).default;

const PATHS = [
  "/v1/load-shares", "/v1/ram-sets/size", "/v1/ram-sets/verify", "/v1/packing-lifts/sequence", "/v1/circuits/assess",
  "/v1/lift-plans", "/v1/catalogues/check", "/v1/replays",
];
const SECOND = 1000;

// The package has the texts as characters, so what is no UTF-8 was lost. These are its bytes, from memory of the suite; each is
// held against the package by reading it as a browser would.
const BYTES = {
  "i_string_UTF-16LE_with_BOM": "fffe5b002200e90022005d00",
  "i_string_UTF-8_invalid_sequence": "5b22e697a5d188fa225d",
  "i_string_UTF8_surrogate_U+D800": "5b22eda080225d",
  "i_string_invalid_utf-8": "5b22ff225d",
  "i_string_iso_latin_1": "5b22e9225d",
  "i_string_lone_utf8_continuation_byte": "5b2281225d",
  "i_string_not_in_unicode_range": "5b22f4bfbfbf225d",
  "i_string_overlong_sequence_2_bytes": "5b22c0af225d",
  "i_string_overlong_sequence_6_bytes": "5b22fc83bfbfbfbf225d",
  "i_string_overlong_sequence_6_bytes_null": "5b22fc8080808080225d",
  "i_string_truncated-utf-8": "5b22e0ff225d",
  "i_string_utf16BE_no_BOM": "005b002200e90022005d",
  "i_string_utf16LE_no_BOM": "5b002200e90022005d00",
  "n_array_a_invalid_utf8": "5b61e55d",
  "n_array_invalid_utf8": "5bff5d",
  "n_number_invalid-utf-8-in-bigger-int": "5b313233e55d",
  "n_number_invalid-utf-8-in-exponent": "5b316531e55d",
  "n_number_invalid-utf-8-in-int": "5b30e55d0a",
  "n_number_real_with_invalid_utf8_after_e": "5b3165e55d",
  "n_object_lone_continuation_byte_in_key_and_trailing_comma": "7b22b9223a2230222c7d",
  "n_string_invalid-utf-8-in-escape": "5b225c75e5225d",
  "n_string_invalid_utf8_after_escape": "5b225ce5225d",
  "n_structure_incomplete_UTF8_BOM": "efbb7b7d",
  "n_structure_lone-invalid-utf-8": "e5",
  "n_structure_single_eacute": "e9",
};

const faults = [];
const lost = new Set(Object.keys(BYTES));

function bytesOf({ name, input }) {
  const plain = name.replace(/\.json$/, "");
  if (!input.includes("\ufffd")) {
    return Buffer.from(input, "utf8");
  }
  lost.delete(plain);
  const bytes = Buffer.from(BYTES[plain] ?? "", "hex");
  if (new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes) !== input) {
    faults.push(`${name}: the bytes here are not those of the package`);
  }
  return bytes;
}

async function post(path, body) {
  const started = performance.now();
  const reply = await fetch(address + path, { method: "POST", headers: { "Content-Type": "application/json" }, body });
  await reply.arrayBuffer();
  return { status: reply.status, code: reply.headers.get("problem-code"), ms: performance.now() - started };
}

const count = { y: 0, n: 0, i: 0 };
const decided = { taken: [], refused: [] };
let slowest = 0;
for (const item of texts) {
  const body = bytesOf(item);
  const kind = item.name[0];
  count[kind] += 1;
  const refusals = new Set();
  for (const path of PATHS) {
    const { status, code, ms } = await post(path, body);
    slowest = Math.max(slowest, ms);
    const refused = code === "malformed_json";
    refusals.add(refused);
    const where = `${item.name} at ${path}: ${status} ${code} in ${ms.toFixed(0)} ms`;
    // Of all the texts `{}` alone is a request, and at one address only: a catalogue in which nothing stands.
    const answered = item.name === "y_object_empty.json" && path === "/v1/catalogues/check" ? [200] : [400, 422];
    if (!answered.includes(status)) faults.push(where);
    if (ms > SECOND) faults.push(`${where}, which is too long`);
    if (kind === "n" && !refused) faults.push(`${where}, and it is no JSON`);
    if (kind === "y" && refused) faults.push(`${where}, and it is JSON`);
  }
  if (refusals.size > 1) faults.push(`${item.name} is JSON at some addresses and none at others`);
  if (kind === "i") decided[refusals.has(true) ? "refused" : "taken"].push(item.name);
}
if (count.y !== 95 || count.n !== 188 || count.i !== 35) faults.push(`other texts than expected: ${JSON.stringify(count)}`);
for (const name of lost) faults.push(`${name} is not in the package`);
const alive = await post("/v1/load-shares", readFileSync(`${examples}/load_shares.json`));
if (alive.status !== 200) faults.push(`a good request after all of them: ${alive.status}`);

for (const [how, names] of Object.entries(decided)) {
  console.log(`left to the reader, ${how} as JSON (${names.length}): ${names.map((name) => name.slice(2, -5)).join(", ")}`);
}
for (const fault of faults) console.error(fault);
console.log(`${texts.length} texts at ${PATHS.length} addresses, the slowest in ${slowest.toFixed(0)} ms: ${faults.length} faults`);
process.exit(faults.length === 0 ? 0 : 1);
