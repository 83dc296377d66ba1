/**
 * Random slips for property tests: 120 random companies, each with a random slip and random permissions, half of them with
 * something published. Planned once, read by several rules.
 */
import * as fc from "fast-check";
import type { Company } from "../../src/domain/company-schema.js";
import type { Plan, PlanBlock } from "../../src/domain/plan-format.js";
import { present } from "../../src/domain/result.js";
import { civilDateAt, parseInstant, type Minute } from "../../src/domain/time.js";
import { planCompany } from "../../src/planner/plan.js";
import { listDatesAhead, listSaturdaysAhead, listWaysOut } from "../../src/planner/ways-out.js";
import type { WayOut, WaysOutOptions } from "../../src/planner/ways-out/way-out.js";
import { anyCompanyFile } from "../support/company-arbitrary.js";
import { parsed } from "../support/company-builder.js";
import { propertySeed } from "../support/property-seed.js";
import { anySlip, slip, type SlipChoice } from "./ways-out-slips.js";

export const CASES = 120;
export const MOST_SECONDS = 240_000;

export interface Case {
  readonly choice: SlipChoice;
  readonly company: Company;
  readonly options: WaysOutOptions;
  readonly ways: readonly WayOut[];
}

export const sample = fc.sample(
  fc.record({
    file: anyCompanyFile(),
    choice: anySlip,
    isPublished: fc.boolean(),
    resequence: fc.boolean(),
    lend: fc.boolean(),
    stretchDays: fc.constantFrom(0, 7),
    saturdays: fc.constantFrom(0, 2),
  }),
  { numRuns: CASES, seed: propertySeed(20_270_318) },
);

let known: readonly Case[] | undefined;

/** Planned once, read by several rules. */
export function listCases(): readonly Case[] {
  known ??= sample.flatMap(
    ({ file, choice, isPublished, resequence, lend, stretchDays, saturdays }, index): Case[] => {
      const { asOf } = file;
      const before = parsed(file.input);
      const standing = planCompany(before, { asOf, seed: 3, iterations: 4 });
      const input = isPublished ? { ...file.input, published: standing.blocks } : file.input;
      const slipped = slip(input, asOf, choice);
      if (slipped === null) return [];
      const company = parsed(slipped);
      const permissions = {
        resequence,
        lend,
        stretch: listDatesAhead(company, asOf, stretchDays),
        saturday: listSaturdaysAhead(company, asOf, saturdays),
      };
      const options = { asOf, seed: index, iterations: 12, standing, permissions };
      return [{ choice, company, options, ways: listWaysOut(company, options) }];
    },
  );
  return known;
}

export function forEachCase(rule: (one: Case) => void): void {
  listCases().forEach((one, index) => {
    try {
      rule(one);
    } catch (error) {
      throw new Error(`case ${index} (${one.choice.kind}): ${error instanceof Error ? error.message : ""}`, {
        cause: error,
      });
    }
  });
}

export const nameOf = ({
  job,
  task,
}: {
  readonly job: string | null;
  readonly task: string | null;
}): string => `${job ?? ""}/${task ?? ""}`;

export function minute(company: Company, iso: string): Minute {
  return present(parseInstant(iso, company.company.timeZone), iso);
}

/** By task, `crew date` of its work in order; of days gone by only where there are no others, and then the last. */
export function daysOfWork(
  company: Company,
  asOf: Minute,
  blocks: readonly PlanBlock[],
): Map<string, string[]> {
  const zone = company.company.timeZone;
  const today = civilDateAt(asOf, zone);
  const all = new Map<string, Set<string>>();
  for (const block of blocks.filter(({ kind }) => kind === "work")) {
    const date = civilDateAt(minute(company, block.start), zone);
    all.set(nameOf(block), (all.get(nameOf(block)) ?? new Set()).add(`${date} ${block.crew}`));
  }
  return new Map(
    [...all].map(([name, days]) => {
      const sorted = [...days].sort();
      const coming = sorted.filter((day) => day.slice(0, 10) >= today);
      return [name, coming.length > 0 ? coming : sorted.slice(-1)];
    }),
  );
}

/** What is published; for tasks that it does not have, the standing plan. */
export function reference(company: Company, standing: Plan): readonly PlanBlock[] {
  const published = company.published ?? [];
  const worked = new Set(published.filter(({ kind }) => kind === "work").map(nameOf));
  return [
    ...published.map((block) => ({ ...block, units: null })),
    ...standing.blocks.filter((block) => !worked.has(nameOf(block))),
  ];
}

export function firstStarts(company: Company, plan: Plan): Map<string, { crew: string; start: Minute }> {
  const starts = new Map<string, { crew: string; start: Minute }>();
  for (const block of plan.blocks.filter(({ kind }) => kind === "work")) {
    const start = minute(company, block.start);
    const found = starts.get(nameOf(block));
    if (!found || start < found.start) starts.set(nameOf(block), { crew: block.crew, start });
  }
  return starts;
}
