/**
 * Plans of small companies and what they say, in words short enough for an expectation:
 *
 *   workOf(planned(company), "t1")   →  ["alder Tue 16 Mar 07:20-09:20"]
 *
 * Every plan that is asked for here has passed the independent checker. Times are the wall clock at the house.
 */
import { expect } from "vitest";
import type { Company, CompanyInput } from "../../src/domain/company-schema.js";
import type { Because, Plan, PlanBlock, PlanTask } from "../../src/domain/plan-format.js";
import { present } from "../../src/domain/result.js";
import { civilDate, formatDate, parseInstant, type Minute } from "../../src/domain/time.js";
import { formatBroken } from "../../src/planner/check/broken-rule.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { planCompany } from "../../src/planner/plan.js";
import { parsed } from "../support/company-builder.js";

/** Tuesday 16 March 2027, midnight: an ordinary week in spring, with more light than shift. */
export const TUESDAY = "2027-03-16T00:00";

/** The first plan of a company from a minute on (wall time of the company's zone), checked rule by rule. */
export function planned(input: CompanyInput, asOf = TUESDAY): Plan {
  const company = parsed(input);
  const plan = planCompany(company, { asOf: minuteOf(company, asOf), seed: 1, iterations: 1 });
  expect(checkPlan(company, plan).map(formatBroken)).toEqual([]);
  return plan;
}

export function minuteOf(company: Company, time: string): Minute {
  return present(parseInstant(time, company.company.timeZone), `the time ${time}`);
}

/** Each stretch of a task's work, in order of time. */
export function workOf(plan: Plan, task: string): string[] {
  return plan.blocks
    .filter((block) => block.kind === "work" && block.task === task)
    .map((block) => `${block.crew} ${spanText(block.start, block.end)}`);
}

/** Each block of one kind: crew, time, and the house it is at or leads to. */
export function blocksOf(plan: Plan, ...kinds: readonly PlanBlock["kind"][]): string[] {
  return plan.blocks
    .filter((block) => kinds.includes(block.kind))
    .map((block) => `${block.crew} ${spanText(block.start, block.end)} ${block.job ?? "yard"}`);
}

/** When a task starts and ends, whoever works it. */
export function startOf(plan: Plan, task: string): string {
  return timeText(entryOf(plan, task).start);
}

export function endOf(plan: Plan, task: string): string {
  return timeText(entryOf(plan, task).end);
}

export function becauseOf(plan: Plan, task: string): Because {
  return entryOf(plan, task).because;
}

/** The reason for which a task is not in the plan. */
export function whyNot(plan: Plan, task: string): string {
  return present(
    plan.impossible.find((one) => one.task === task),
    `an impossible task ${task}`,
  ).why;
}

/** `Tue 16 Mar 07:20-09:20`; a span into another date names both. */
export function spanText(start: string, end: string): string {
  const sameDate = start.slice(0, 10) === end.slice(0, 10);
  return `${timeText(start)}-${sameDate ? end.slice(11, 16) : timeText(end)}`;
}

/** `Tue 16 Mar 07:20` of an ISO time, as its own offset shows it. */
export function timeText(iso: string): string {
  return `${formatDate(civilDate(iso.slice(0, 10)), "ccc d LLL", "en")} ${iso.slice(11, 16)}`;
}

function entryOf(plan: Plan, task: string): PlanTask {
  return present(
    plan.tasks.find((entry) => entry.task === task),
    `task ${task} in the plan`,
  );
}
