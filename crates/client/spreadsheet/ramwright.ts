/**
 * Ramwright as an Office Script: answers the table of enquiries on the active sheet.
 *
 * The table begins in A1. Its head names the parameters of {{address}}/v1/quick/ram-set, as in
 * note | load_t | points | travel_mm | clearance_mm, and each row under it is one enquiry.
 * The answers are written beside it, from the column "status" on.
 * The service must allow any origin (RAMWRIGHT_CORS_ORIGINS=*), since scripts run in a browser.
 * Results do not replace local codes, the maker's data or a competent engineer. Never work under a load held by oil alone.
 */
const ADDRESS = "{{address}}";
const ENQUIRY: string = "ram-set"; // or load-share, verification, packing-lifts
/** A sheet with your own rams from A1, with the heads of the workbook's sheet "Catalogue"; they go along with each request. */
const CATALOGUE_SHEET: string = "";
const ROWS_AT_ONCE = 20;

async function main(workbook: ExcelScript.Workbook): Promise<string> {
  const sheet = workbook.getActiveWorksheet();
  const region = sheet.getRange("A1").getSurroundingRegion();
  const values = region.getValues();
  const heads = values[0].map((head) => String(head).trim());
  const width = heads.indexOf("status") < 0 ? heads.length : heads.indexOf("status");
  const table = values.map((row) => row.slice(0, width));
  if (table.length < 2 || width === 0) {
    return "There is no table in A1.";
  }
  const own = CATALOGUE_SHEET === "" ? undefined : workbook.getWorksheet(CATALOGUE_SHEET);
  if (CATALOGUE_SHEET !== "" && own === undefined) {
    return `There is no sheet ${CATALOGUE_SHEET}.`;
  }
  const rams = own === undefined ? undefined : csv(own.getRange("A1").getSurroundingRegion().getValues());
  let failed = 0;
  for (let first = 1; first < table.length; first += ROWS_AT_ONCE) {
    const part = table.slice(first, first + ROWS_AT_ONCE);
    const answer = await post([table[0], ...part], rams);
    if (answer.length === part.length + 1) {
      writeLine(sheet, 0, width, answer[0], answer[0]);
      part.forEach((_, at) => {
        failed += writeLine(sheet, first + at, width, answer[0], answer[at + 1]);
      });
    } else {
      const reason = answer.length > 0 ? answer[0].join(",") : "#ERROR: no answer";
      part.forEach((_, at) => {
        markRow(sheet, first + at, width, reason);
      });
      failed += part.length;
    }
    console.log(`${Math.min(first + ROWS_AT_ONCE, table.length) - 1} of ${table.length - 1} rows, ${failed} with a problem`);
  }
  return `${table.length - 1} rows, ${failed} with a problem`;
}

function csv(table: (string | number | boolean)[][]): string {
  const quoted = (cell: string | number | boolean) => `"${String(cell).replace(/"/g, '""')}"`;
  return table.map((row) => row.map(quoted).join(",") + "\r\n").join("");
}

/** The lines of the answer; a single line says why there are no others. */
async function post(table: (string | number | boolean)[][], rams: string | undefined): Promise<string[][]> {
  const boundary = "ramwright-3f1c9a7e52d84b06";
  const part = (name: string, text: string) =>
    `--${boundary}\r\nContent-Disposition: form-data; name="${name}"\r\n\r\n${text}\r\n`;
  const alone = rams === undefined;
  const body = alone ? csv(table) : `${part("table", csv(table))}${part("rams", rams)}--${boundary}--\r\n`;
  const kind = alone ? "text/csv; charset=utf-8" : `multipart/form-data; boundary=${boundary}`;
  try {
    const reply = await fetch(`${ADDRESS}/v1/quick/${ENQUIRY}?dialect=plain&errors=cell`, {
      method: "POST",
      headers: { "Content-Type": kind },
      body,
    });
    if (reply.status !== 200) {
      return [[`#ERROR: the service answered ${reply.status}`]];
    }
    const text = await reply.text();
    return text.split("\r\n").filter((line) => line.length > 0).map((line) => line.split(","));
  } catch (error) {
    return [[`#ERROR: no answer from ${ADDRESS}: ${String(error)}`]];
  }
}

/** Writes the answer's own columns; 1 if the row has a problem. */
function writeLine(sheet: ExcelScript.Worksheet, row: number, width: number, head: string[], line: string[]): number {
  const own = line.slice(head.indexOf("status"));
  const isNumber = /^[-+]?[0-9]+(\.[0-9]+)?([eE][-+]?[0-9]+)?$/;
  const cells = own.map((text) => (isNumber.test(text) ? Number(text) : text));
  sheet.getRangeByIndexes(row, width, 1, cells.length).setValues([cells]);
  const failed = row > 0 && own[0] === "problem";
  const mark = sheet.getRangeByIndexes(row, width, 1, 1).getFormat().getFill();
  if (failed) {
    mark.setColor("#FFC7CE");
  } else {
    mark.clear();
  }
  return failed ? 1 : 0;
}

function markRow(sheet: ExcelScript.Worksheet, row: number, width: number, reason: string) {
  sheet.getRangeByIndexes(row, width + 2, 1, 14).clear(ExcelScript.ClearApplyTo.contents);
  sheet.getRangeByIndexes(row, width, 1, 2).setValues([["problem", reason]]);
  sheet.getRangeByIndexes(row, width, 1, 1).getFormat().getFill().setColor("#FFC7CE");
}
