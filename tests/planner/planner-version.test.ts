/** Kept plans are made again only by the planner that they name: so its version is raised when its plans change. */
import { createHash } from "node:crypto";
import { expect, it } from "vitest";
import { planCompany } from "../../src/planner/plan.js";
import { PLANNER_VERSION } from "../../src/planner/planner-version.js";
import { demoCompany, EVENING } from "../services/demo-company.js";

/** Of the demo company's plan after 60 schedules. */
const KNOWN = { version: "4", digest: "23149caf7bccd1cf" };

it("plans as the version says: another plan needs another version, here and in planner-version.ts", async () => {
  const plan = planCompany(await demoCompany(), { asOf: EVENING, seed: 1, iterations: 60 });
  const digest = createHash("sha256").update(JSON.stringify(plan)).digest("hex").slice(0, 16);
  expect({ version: PLANNER_VERSION, digest }).toEqual(KNOWN);
});
