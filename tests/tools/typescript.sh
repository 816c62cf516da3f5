#!/usr/bin/env bash
# Types generated from the description, compiled with the example, which is then run against the running server.
# What the types must refuse is compiled too, and must not compile.
. "$(dirname "$0")/common.sh"
tools node=nodejs npm
start_server
cp -r "$root/crates/client/typescript" "$work/typescript"
cd "$work/typescript"
npm ci --ignore-scripts --no-audit --no-fund --silent
curl -fsS "http://$address/openapi-3.0.json" > description.json
npx --no-install openapi-typescript description.json -o ramwright.d.ts >/dev/null
npx --no-install tsc
echo "the example compiles with $(wc -l < ramwright.d.ts) lines of types"
node example.js "http://$address/" | tee told
grep -q ' x [a-z]*-[0-9]* at A' told && grep -q '^refused at #/catalogue' told || { echo "the example does not say what it should" >&2; exit 1; }

# Each of these is wrong in one place.
refuse() {
  sed "$1" example.ts > wrong.ts
  cmp -s example.ts wrong.ts && { echo "nothing was made wrong by $1" >&2; exit 1; }
  if npx --no-install tsc --noEmit >/dev/null; then
    echo "the types let pass: $1" >&2
    exit 1
  fi
  rm wrong.ts
}
refuse 's/weight: tonnes(120)/weight: tonnes(120).value/'
refuse 's/origin: "weighed"/origin: "guessed"/'
refuse 's/travel: mm(60),//'
refuse 's/travel: mm(60)/travle: mm(60)/'
refuse 's/unit: "t" as const/unit: "ton" as const/'
refuse 's/verdict\.status/verdict.colour/'
echo "the types refuse six wrong programs"

# The Office Script, as the service hands it out, on a workbook that is none of Excel's; with own rams and without.
for own in "" "Own rams"; do
  { cat "$root/tests/tools/office_script.ts"; curl -fsS "http://$address/spreadsheet/ramwright.ts"; } \
    | sed "s/^const CATALOGUE_SHEET: string = \"\";/const CATALOGUE_SHEET: string = \"$own\";/" > script.ts
  npx --no-install tsc --strict --target es2022 --module es2022 --lib es2022,dom --outDir script script.ts
  node --input-type=module < script/script.js
done
