/** Reports from site for tests: a key of its own each, said on 3 December by crew "alder". */
import { randomUUID } from "node:crypto";
import { civilDate } from "../../src/domain/time.js";
import type { ReportBody } from "../../src/domain/site-report.js";
import type { ReportInput } from "../../src/services/report-action.js";

export const T1 = { job: "spruce-14", task: "t1" } as const;

/** A report of a task of the builder's house; about the day where `at` is null. */
export function aReport(body: ReportBody, overrides: Partial<ReportInput> = {}): ReportInput {
  return {
    key: randomUUID(),
    crew: "alder",
    date: civilDate("2026-12-03"),
    at: T1,
    body,
    saidMinute: null,
    seen: null,
    ...overrides,
  };
}

export const DONE: ReportBody = { kind: "done", note: "" };
export const START: ReportBody = { kind: "start", note: "" };
export const STUCK: ReportBody = { kind: "stuck", reason: "material", note: "" };
export const STRETCH: ReportBody = { kind: "stretch", note: "" };
export const left = (hours: number): ReportBody => ({ kind: "hours-left", hours, note: "" });
export const damage = (hours: number | null): ReportBody => ({
  kind: "damage",
  area: "front",
  what: "sheathing",
  amount: 3,
  unit: "sheets",
  hours,
  note: "",
});
export const short = (missing: number): ReportBody => ({ kind: "short-handed", missing, note: "" });
