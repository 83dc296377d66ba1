/** Reports from site of random companies, sent again and in any order: each is there once, and every forecast is sound. */
import * as fc from "fast-check";
import { expect, it } from "vitest";
import { formatFault, parseCompany } from "../../src/domain/company-file.js";
import type { Company } from "../../src/domain/company-schema.js";
import { present } from "../../src/domain/result.js";
import { DAMAGE_UNITS, STUCK_REASONS, type ReportBody } from "../../src/domain/site-report.js";
import { addDays, civilDateAt, type Minute } from "../../src/domain/time.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { formatBroken } from "../../src/planner/check/broken-rule.js";
import type { ReportInput } from "../../src/services/report-action.js";
import { openSiteReports } from "../../src/services/site-reports.js";
import { anyCompanyFile } from "../support/company-arbitrary.js";
import { ROBIN, useDesks } from "../support/desk.js";

let now: Minute = 0;
const desks = useDesks({ clock: () => now });

const note = fc.constantFrom("", "no boards", "mañana");
const hours = fc.integer({ min: 1, max: 400 }).map((tenths) => tenths / 10);
const ofTask: fc.Arbitrary<ReportBody> = fc.oneof(
  fc.record({ kind: fc.constant("start" as const), note }),
  fc.record({ kind: fc.constant("done" as const), note }),
  fc.record({ kind: fc.constant("hours-left" as const), hours, note }),
  fc.record({ kind: fc.constant("stuck" as const), reason: fc.constantFrom(...STUCK_REASONS), note }),
  fc.record({
    kind: fc.constant("damage" as const),
    area: fc.constant("front"),
    what: fc.constant("sheathing"),
    amount: fc.option(fc.integer({ min: 1, max: 40 })),
    unit: fc.constantFrom(...DAMAGE_UNITS),
    hours: fc.option(hours),
    note,
  }),
);
const ofDay: fc.Arbitrary<ReportBody> = fc.oneof(
  fc.record({ kind: fc.constant("stretch" as const), note }),
  fc.record({ kind: fc.constant("short-handed" as const), missing: fc.integer({ min: 1, max: 4 }), note }),
);

/** By a crew that does the trade, or by any; of a task that there is, or that there is no more. */
function anyReport(company: Company, asOf: Minute): fc.Arbitrary<ReportInput> {
  const today = civilDateAt(asOf, company.company.timeZone);
  const tasks = company.jobs.flatMap((job) => job.tasks.map(({ id }) => ({ job: job.id, task: id })));
  const places = [...tasks, { job: "gone", task: "gone" }];
  const common = {
    key: fc.uuid(),
    crew: fc.constantFrom(...company.crews.map(({ id }) => id)),
    date: fc.constantFrom(today, addDays(today, 1)),
    saidMinute: fc.option(fc.integer({ min: asOf - 3000, max: asOf + 60 })),
    seen: fc.option(fc.constant(1)),
  };
  return fc.oneof(
    { weight: 5, arbitrary: fc.record({ ...common, at: fc.constantFrom(...places), body: ofTask }) },
    { weight: 1, arbitrary: fc.record({ ...common, at: fc.constant(null), body: ofDay }) },
  );
}

const anyScene = anyCompanyFile().chain(({ input, asOf }) => {
  const source: unknown = JSON.parse(JSON.stringify(input));
  const parsed = parseCompany(source);
  const company = present(parsed.ok ? parsed.value : undefined, "a random company without a fault");
  const reports = fc.uniqueArray(anyReport(company, asOf), {
    minLength: 1,
    maxLength: 5,
    selector: ({ key }) => key,
  });
  const arrivals = reports.chain((all) =>
    fc
      .array(fc.constantFrom(...all), { maxLength: 4 })
      .chain((again) => fc.shuffledSubarray([...all, ...again], { minLength: all.length + again.length })),
  );
  return fc.record({ source: fc.constant(source), asOf: fc.constant(asOf), arrivals });
});

it("reports in any order and repeated are each taken once, and after each the forecast keeps every rule", async () => {
  const desk = await desks.open();
  const reports = openSiteReports(await desks.database());
  let changed = 0;
  await fc.assert(
    fc.asyncProperty(anyScene, async ({ source, asOf, arrivals }) => {
      now = asOf;
      const loaded = await desk.load(source, ROBIN, "");
      if (!loaded.ok) throw new Error(loaded.error.map(formatFault).join("\n"));
      const before = (await reports.list(1000)).length;
      const seen = new Set<string>();
      for (const report of arrivals) {
        const taken = await desk.report(report, ROBIN);
        expect(taken).toEqual({ ok: true, value: seen.has(report.key) ? "taken-before" : "taken" });
        seen.add(report.key);
        const { company, plan } = desk.current();
        expect(checkPlan(company, plan).map((broken) => formatBroken(broken))).toEqual([]);
      }
      const kept = (await reports.list(1000)).filter(({ key }) => seen.has(key));
      expect(kept).toHaveLength(seen.size);
      expect(await reports.list(1000)).toHaveLength(before + seen.size);
      // The record has a row for each, in the order in which they came.
      const inOrder = kept.toSorted((one, other) => one.version - other.version).map(({ key }) => key);
      expect(inOrder).toEqual([...seen]);
      changed += kept.filter(({ applied }) => applied).length;
    }),
    { numRuns: 20 },
  );
  expect(changed).toBeGreaterThan(10);
});
