// Run against a service: node example.js http://127.0.0.1:8080/

import { planLift, Refused, validateLift, type LiftRequest } from "./lift.js";

declare const process: { argv: string[] };

const service = process.argv[2] ?? "http://127.0.0.1:8080/";
const m = (value: number) => ({ value, unit: "m" as const });
const mm = (value: number) => ({ value, unit: "mm" as const });
const tonnes = (value: number) => ({ value, unit: "t" as const });
const corner = (id: string, x: number, y: number) => ({
  id, x: m(x), y: m(y), clearance: mm(335), limit: { value: 900, unit: "kN" as const }, pad: { length: mm(600), width: mm(500) },
});
const request: LiftRequest = {
  title: "Invented: gearbox off its bed",
  load_case: {
    weight: tonnes(120),
    origin: "weighed",
    centre_of_gravity: { x: m(1), y: m(0.8), z: m(1.1) },
    travel: mm(60),
    points: [corner("A", 0, 0), corner("B", 2, 0), corner("C", 1, 2)],
  },
};

const understood = await validateLift(service, request);
console.log(`${understood.assumptions.length} assumptions`);
const { verdict, result, request_digest: digest } = await planLift(service, request);
if (digest !== understood.request_digest) throw new Error("another request was read than computed");
console.log(`${verdict.status}: ${result.ram_set.map(({ count, ram, point }) => `${count} x ${ram} at ${point}`).join(", ")}`);
for (const check of result.verification?.checks.filter((one) => one.status === "not_checked").slice(0, 3) ?? []) {
  console.log(`not checked: ${check.id} at ${check.subject}, for want of ${check.missing?.join(", ")}`);
}
try {
  await planLift(service, { ...request, catalogue: "no_such_yard" });
  throw new Error("a catalogue that does not exist was taken");
} catch (error) {
  if (!(error instanceof Refused)) throw error;
  console.log(`refused at ${error.problem.errors?.[0]?.pointer}: ${error.problem.errors?.[0]?.detail}`);
}
