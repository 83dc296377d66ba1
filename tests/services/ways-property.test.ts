/** Ways out of random slips of random companies, taken at the desk: each keeps every rule and stands as it was shown. */
import * as fc from "fast-check";
import { expect, it } from "vitest";
import { formatFault, parseCompany } from "../../src/domain/company-file.js";
import { present } from "../../src/domain/result.js";
import { addDays, civilDateAt, type Minute } from "../../src/domain/time.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { formatBroken } from "../../src/planner/check/broken-rule.js";
import { SLIP_KINDS, type Slip } from "../../src/services/slip.js";
import type { WaysAsk } from "../../src/services/ways.js";
import { anyCompanyFile } from "../support/company-arbitrary.js";
import { ROBIN, useDesks } from "../support/desk.js";
import { anyChange } from "./changes/change-arbitrary.js";

let now: Minute = 0;
const desks = useDesks({ clock: () => now, iterations: 4 });

const anyScene = anyCompanyFile().chain(({ input, asOf }) => {
  const source: unknown = JSON.parse(JSON.stringify(input));
  const parsed = parseCompany(source);
  const company = present(parsed.ok ? parsed.value : undefined, "a random company without a fault");
  const today = civilDateAt(asOf, company.company.timeZone);
  const slip = anyChange(company, asOf).filter((change): change is Slip =>
    SLIP_KINDS.some((kind) => kind === change.kind),
  );
  const dates = fc.subarray([0, 1, 2, 3, 4].map((days) => addDays(today, days)));
  const permissions = fc.record({
    resequence: fc.boolean(),
    lend: fc.boolean(),
    stretch: dates,
    saturday: dates,
  });
  return fc.record({
    source: fc.constant(source),
    asOf: fc.constant(asOf),
    slip,
    permissions,
    isPublished: fc.boolean(),
  });
});

it("every way out that can be taken keeps every rule, stands as it was shown, and can be taken back", async () => {
  const desk = await desks.open();
  let taken = 0;
  await fc.assert(
    fc.asyncProperty(anyScene, async ({ source, asOf, slip, permissions, isPublished }) => {
      now = asOf;
      const loaded = await desk.load(source, ROBIN, "");
      if (!loaded.ok) throw new Error(loaded.error.map(formatFault).join("\n"));
      if (isPublished) await desk.publish({ planId: desk.current().planId }, ROBIN);
      const ask: WaysAsk = { slip: { ...slip, why: "" }, permissions, wish: null };
      const first = await desk.compareWays(ask);
      fc.pre(first.ok);
      if (!first.ok) return;
      const key = present(first.value.ways.at(-1), "the order held at least").key;
      const shown = await desk.compareWays({ ...ask, open: key });
      if (!shown.ok) throw new Error("compared once and not again");
      const { way, plan } = present(shown.value.opened, "the way");
      const before = desk.current();
      const order = { ...ask, basis: shown.value.basis, key, digest: way.digest, publish: true, why: "" };
      const done = await desk.takeWay(order, ROBIN);
      if (!done.ok) throw new Error(JSON.stringify(done.error));
      const after = desk.current();
      expect(after.plan.blocks).toEqual(plan.blocks);
      expect(checkPlan(after.company, after.plan).map(formatBroken)).toEqual([]);
      expect(await desk.undo(after.version, ROBIN, "")).toMatchObject({ ok: true });
      expect(desk.current().source).toEqual(before.source);
      taken += 1;
    }),
    { numRuns: 12 },
  );
  expect(taken).toBeGreaterThan(5);
}, 240_000);
