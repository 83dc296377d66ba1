/**
 * A desk in memory for tests of the web room: holds are added to a real company, checked by its schema, and planned by
 * whatever the test hands in. It keeps nothing, and knows no other change.
 */
import { companySchema, type Company } from "../../src/domain/company-schema.js";
import type { Plan } from "../../src/domain/plan-format.js";
import { fail, ok, type Result } from "../../src/domain/result.js";
import { civilDateAt, parseInstant, type Minute } from "../../src/domain/time.js";
import type { ChangeFailure } from "../../src/services/changes/company-change.js";
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
  let lastPlan: Plan | undefined;
  let planId = 0;

  /** Another number for each plan that the test hands in. */
  const planNow = (): { readonly plan: Plan; readonly planId: number } => {
    const now = plan(company);
    if (JSON.stringify(now) !== JSON.stringify(lastPlan)) planId += 1;
    lastPlan = now;
    return { plan: now, planId };
  };
  const replaceHolds = (holds: Company["holds"]): void => {
    company = { ...company, holds };
    version += 1;
  };
  const addHold = (input: HoldInput): Result<void, ChangeFailure> => {
    const hold = { id: `added-${version}`, ...input, source: "hand" };
    const parsed = companySchema.shape.holds.safeParse([hold]);
    const path = `holds[${company.holds.length}]`;
    if (!parsed.success) {
      const faults = parsed.error.issues.map((issue) => ({
        path: [path, ...issue.path.slice(1)].join("."),
        sentence: `${String(issue.path.at(-1))} ${issue.message}.`,
      }));
      return fail({ kind: "faults", faults });
    }
    const from = parseInstant(input.from, "UTC") ?? 0;
    const to = parseInstant(input.to, "UTC") ?? 0;
    if (to <= from) {
      const faults = [{ path: `${path}.to`, sentence: "The hold ends before it begins." }];
      return fail({ kind: "faults", faults });
    }
    replaceHolds([...company.holds, ...parsed.data]);
    return ok(undefined);
  };
  const liftHold = (id: string): Result<void, ChangeFailure> => {
    if (!company.holds.some((hold) => hold.id === id)) return refuse(`There is no hold "${id}" any more.`);
    replaceHolds(company.holds.filter((hold) => hold.id !== id));
    return ok(undefined);
  };

  return {
    isEmpty: false,
    current: () => ({
      company,
      source: {},
      ...planNow(),
      today: civilDateAt(nowMinute, company.company.timeZone),
      nowMinute,
      version,
      versionOf: () => 1,
      planning: planning?.() ?? null,
      publication: null,
    }),
    onChange: () => () => undefined,
    make: (change) => {
      if (change.kind === "hold-added") return Promise.resolve(addHold(change.input));
      if (change.kind === "hold-lifted") return Promise.resolve(liftHold(change.id));
      return Promise.resolve(refuse("This desk knows holds only."));
    },
    report: () => Promise.resolve(refuse("This desk hears no reports.")),
    publish: () => Promise.resolve(refuse("This desk publishes nothing.")),
    planMove: () => Promise.resolve(fail({ kind: "not-planned" })),
    move: () => Promise.resolve(refuse("This desk knows holds only.")),
    compareWays: () => Promise.resolve(refuse("This desk has no ways out.")),
    takeWay: () => Promise.resolve(refuse("This desk has no ways out.")),
    undo: () => Promise.resolve(refuse("This desk keeps no record.")),
    load: () => Promise.resolve(fail([{ path: "", sentence: "This desk keeps its company." }])),
  };
}

function refuse(sentence: string): Result<never, ChangeFailure> {
  return fail({ kind: "refused", refusal: { kind: "unknown", sentence } });
}
