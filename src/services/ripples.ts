/**
 * What a change has moved: the plan that stood before it against the plan that stood after it, both as they were kept. A
 * plan that was made for several changes at once shows what all of them moved, and says so.
 */
import type { RippleFacts } from "../board/ripple-view.js";
import { parseCompany } from "../domain/company-file.js";
import type { Company } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import { parseInstant } from "../domain/time.js";
import { findDifference } from "../planner/ways-out/plan-difference.js";
import { readWork, taskKey } from "../planner/ways-out/planned-work.js";
import type { Database } from "../store/database.js";
import { findPlansAround, PlanStore } from "../store/plan-store.js";
import { findSourceAt } from "../store/record-store.js";
import { toPlan } from "./desk-plans.js";

export interface Ripples {
  /** Undefined where the plan after the change is still to be made, or there was none before. */
  of(version: number): Promise<RippleFacts | undefined>;
}

/** Where there is no database: none. */
export const NO_RIPPLES: Ripples = { of: () => Promise.resolve(undefined) };

/** Ripples that are remembered: those of reports that the office has not done with are looked at again and again. */
const MOST_REMEMBERED = 200;

/** Of a database that has been migrated. */
export function openRipples(database: Database): Ripples {
  const plans = new PlanStore(database);
  const known = new Map<string, RippleFacts>();
  return {
    async of(version) {
      const around = await findPlansAround(database, version);
      if (around === undefined) return undefined;
      // The same numbers may stand for other plans after a restore, but then of other versions.
      const key = [version, around.before.id, around.after.id].join();
      const remembered = known.get(key);
      if (remembered !== undefined) return remembered;
      const [before, after, source] = await Promise.all([
        plans.find(around.before.id),
        plans.find(around.after.id),
        findSourceAt(database, around.after.companyVersion),
      ]);
      const parsed = parseCompany(source);
      if (before === undefined || after === undefined || !parsed.ok) return undefined;
      const isOfSeveral = around.before.companyVersion < version - 1 || around.after.companyVersion > version;
      const ripple = makeRipple(parsed.value, toPlan(before), toPlan(after), isOfSeveral);
      if (known.size >= MOST_REMEMBERED) known.clear();
      known.set(key, ripple);
      return ripple;
    },
  };
}

function makeRipple(company: Company, old: Plan, plan: Plan, isOfSeveral: boolean): RippleFacts {
  const [before, after] = [readWork(company, old.blocks), readWork(company, plan.blocks)];
  const asOf = parseInstant(plan.asOf, company.company.timeZone) ?? 0;
  const leftOut = new Set(plan.impossible.map(({ job, task }) => taskKey(job, task)));
  const difference = findDifference(company, before, after, asOf, leftOut);
  return { company, before, after, plan, difference, isOfSeveral };
}
