/**
 * A desk in memory for tests of the web room: holds are added to a real company, checked by its schema, and planned by
 * whatever the test hands in. It keeps no file.
 */
import { companySchema, type Company } from "../../src/domain/company-schema.js";
import type { Plan } from "../../src/domain/plan-format.js";
import { fail, ok } from "../../src/domain/result.js";
import { civilDateAt, parseInstant, type Minute } from "../../src/domain/time.js";
import type { Desk, DeskState, HoldInput } from "../../src/services/desk.js";

export interface FakeDeskOptions {
  readonly company: Company;
  readonly nowMinute: Minute;
  readonly plan: (company: Company) => Plan;
  /** Whether a search goes on; none does where it is left out. */
  readonly planning?: () => DeskState["planning"];
}

/** A desk whose holds really change, and whose plan follows them as far as `plan` does. */
export function makeFakeDesk({ company: first, nowMinute, plan, planning }: FakeDeskOptions): Desk {
  let company = first;
  let version = 1;
  const replaceHolds = (holds: Company["holds"]): void => {
    company = { ...company, holds };
    version += 1;
  };
  return {
    current: () => ({
      company,
      plan: plan(company),
      today: civilDateAt(nowMinute, company.company.timeZone),
      nowMinute,
      version,
      planning: planning?.() ?? null,
    }),
    addHold: (input: HoldInput) => {
      const hold = { id: `added-${version}`, ...input, source: "hand" };
      const parsed = companySchema.shape.holds.safeParse([hold]);
      const path = `holds[${company.holds.length}]`;
      if (!parsed.success) {
        const faults = parsed.error.issues.map((issue) => ({
          path: [path, ...issue.path.slice(1)].join("."),
          sentence: `${String(issue.path.at(-1))} ${issue.message}.`,
        }));
        return Promise.resolve(fail(faults));
      }
      const from = parseInstant(input.from, "UTC") ?? 0;
      const to = parseInstant(input.to, "UTC") ?? 0;
      if (to <= from) {
        return Promise.resolve(fail([{ path: `${path}.to`, sentence: "The hold ends before it begins." }]));
      }
      replaceHolds([...company.holds, ...parsed.data]);
      return Promise.resolve(ok(undefined));
    },
    liftHold: (id: string) => {
      if (!company.holds.some((hold) => hold.id === id)) {
        return Promise.resolve(
          fail({ kind: "unknown-hold", sentence: `There is no hold "${id}" any more.` }),
        );
      }
      replaceHolds(company.holds.filter((hold) => hold.id !== id));
      return Promise.resolve(ok(undefined));
    },
  };
}
