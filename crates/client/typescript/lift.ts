// A lift asked of the service with nothing but `fetch` and the types of its description.

import type { components } from "./ramwright.js";

type Schemas = components["schemas"];
export type LiftRequest = Schemas["PlanLiftRequest"];
export type LiftAnswer = Schemas["Answer_LiftPlan"];
export type Validation = Schemas["Validation"];
export type Problem = Schemas["Problem"];

/** What the service refused, with every fault at its place. */
export class Refused extends Error {
  constructor(readonly problem: Problem) {
    super(`${problem.title}: ${problem.detail}`);
  }
}

async function post(address: string, body: LiftRequest): Promise<unknown> {
  const response = await fetch(address, { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(body) });
  const answer: unknown = await response.json();
  if (!response.ok) throw new Refused(answer as Problem);
  return answer;
}

/** Plans a lift; `service` is its address with a slash at the end, under any path. */
export async function planLift(service: string, request: LiftRequest): Promise<LiftAnswer> {
  return (await post(`${service}v1/lift-plans`, request)) as LiftAnswer;
}

/** Has a request read and nothing computed: for a form while somebody types. */
export async function validateLift(service: string, request: LiftRequest): Promise<Validation> {
  return (await post(`${service}v1/lift-plans?validate_only=true`, request)) as Validation;
}
