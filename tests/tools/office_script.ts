// The Office Script is appended to this: what it finds in a workbook, as far as it asks, and a workbook to run it on.
// It shows that the script is sound TypeScript and what it sends and writes, not what Excel makes of it.

type Cell = string | number | boolean;

namespace ExcelScript {
  export enum ClearApplyTo {
    contents = "Contents",
  }
  export interface Fill {
    setColor(colour: string): void;
    clear(): void;
  }
  export interface Range {
    getSurroundingRegion(): Range;
    getValues(): Cell[][];
    setValues(values: Cell[][]): void;
    clear(what: ClearApplyTo): void;
    getFormat(): { getFill(): Fill };
  }
  export interface Worksheet {
    getRange(place: string): Range;
    getRangeByIndexes(row: number, column: number, rows: number, columns: number): Range;
  }
  export interface Workbook {
    getActiveWorksheet(): Worksheet;
    getWorksheet(name: string): Worksheet | undefined;
  }
}

class Sheet implements ExcelScript.Worksheet {
  readonly colours = new Map<string, string>();
  constructor(readonly cells: Cell[][]) {}

  getRange(place: string): ExcelScript.Range {
    if (place !== "A1") throw new Error(`asked for ${place}`);
    return this.getRangeByIndexes(0, 0, this.cells.length, Math.max(...this.cells.map((row) => row.length)));
  }

  getRangeByIndexes(row: number, column: number, rows: number, columns: number): ExcelScript.Range {
    const range: ExcelScript.Range = {
      getSurroundingRegion: () => range,
      getValues: () =>
        Array.from({ length: rows }, (_, at) => Array.from({ length: columns }, (_, on) => this.cells[row + at]?.[column + on] ?? "")),
      setValues: (values) => {
        if (values.length !== rows || values.some((line) => line.length !== columns)) throw new Error("another size");
        values.forEach((line, at) => line.forEach((cell, on) => { (this.cells[row + at] ??= [])[column + on] = cell; }));
      },
      clear: () => range.setValues(Array.from({ length: rows }, () => Array.from({ length: columns }, () => ""))),
      getFormat: () => ({
        getFill: () => ({
          setColor: (colour) => { this.colours.set(`${row}`, colour); },
          clear: () => { this.colours.delete(`${row}`); },
        }),
      }),
    };
    return range;
  }
}

const HEADS: Cell[] = ["note", "load_t", "duty", "points", "travel_mm", "clearance_mm", "rams_per_point", "length_m"];
const enquiries = new Sheet([
  HEADS,
  ['Invented: "press", a', 50.5, "press", 2, 60, 400, 2, ""],
  ["Invented: fails", 50, "press", 2, 60, 400, 2, 3.6],
  ["=not a formula", 40.25, "press", 2, 60, 400, 2, ""],
]);
const ownRams = new Sheet([
  ["id", "action", "material", "lock_collar", "effective_area_cm2", "rated_pressure_bar", "stroke_mm", "closed_height_mm"],
  ["own-1", "double_acting", "steel", "no", 120.5, 700, 250, 330],
]);

function want<T>(got: T, wanted: T, where: string) {
  if (JSON.stringify(got) !== JSON.stringify(wanted)) throw new Error(`${where}: ${JSON.stringify(got)}, and not ${JSON.stringify(wanted)}`);
}

async function run() {
  const workbook: ExcelScript.Workbook = {
    getActiveWorksheet: () => enquiries,
    getWorksheet: (name) => (name === "Own rams" ? ownRams : undefined),
  };
  // Twice: the answers of the first time are replaced.
  for (const time of ["first", "second"]) {
    want(await main(workbook), "3 rows, 1 with a problem", time);
    const at = (head: string) => enquiries.cells[0].indexOf(head);
    const column = (head: string) => enquiries.cells.slice(1).map((row) => row[at(head)]);
    want(column("status"), ["done", "problem", "done"], "status");
    want(String(column("message")[1]).slice(0, 14), "#ERROR length:", "why a row fails");
    want(column("rams")[0], 2, "a number is a number");
    want([...enquiries.colours.keys()], ["2"], "the row that is marked");
    const reply = await fetch(ADDRESS + String(column("permalink")[2]));
    const answer = (await reply.json()) as { request: { inline?: { rams: { id: string }[] } }; request_digest: string };
    want(column("request_digest")[2], answer.request_digest, "digest");
    const sent = CATALOGUE_SHEET;
    want(answer.request.inline?.rams.map((ram) => ram.id), sent === "" ? undefined : ["own-1"], "what went along");
    want(column("ram_model")[0] === "own-1", sent !== "", "whose ram it is");
  }
}

// Not before the script below has been read.
setTimeout(async () => {
  await run();
  console.log("the Office Script fills its table");
}, 0);
