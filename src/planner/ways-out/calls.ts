/**
 * Calls to make: whoever was told a date that is no longer so. A homeowner whose days with a crew at the house are not
 * the same, a subcontractor whose days of work are not, a supplier whose delivery is needed on another day.
 */
import { zoneOfJob, type Company } from "../../domain/company-schema.js";
import { civilDateAt, type CivilDate } from "../../domain/time.js";
import { compareTexts, taskKey, type PlannedWork } from "./planned-work.js";

/** `before` and `after` are all days, in order; `old` and `new` the first of them that is only in one of the two. */
export interface DaysCall {
  readonly before: readonly CivilDate[];
  readonly after: readonly CivilDate[];
  /** The first day that is given up; null where days only come on top. */
  readonly old: CivilDate | null;
  /** The first day that is new; null where days only fall away. */
  readonly new: CivilDate | null;
}

export type Call =
  | ({ readonly kind: "homeowner"; readonly job: string } & DaysCall)
  | ({ readonly kind: "sub"; readonly crew: string } & DaysCall)
  /** `old` and `new`: the date on which the first task that needs it starts; null where none is planned. */
  | {
      readonly kind: "supplier";
      readonly job: string;
      readonly delivery: string;
      readonly old: CivilDate | null;
      readonly new: CivilDate | null;
    };

/** Homeowners, then subcontractors, then suppliers, each as in the company file. */
export function listCalls(company: Company, before: PlannedWork, after: PlannedWork): readonly Call[] {
  const then = toDays(before);
  const now = toDays(after);
  return [
    ...company.jobs.flatMap(({ id }): Call[] => {
      const changed = compareDays(then.jobs.get(id), now.jobs.get(id));
      return changed ? [{ kind: "homeowner", job: id, ...changed }] : [];
    }),
    ...company.crews.flatMap(({ id, kind }): Call[] => {
      const changed = kind === "sub" ? compareDays(then.crews.get(id), now.crews.get(id)) : null;
      return changed ? [{ kind: "sub", crew: id, ...changed }] : [];
    }),
    ...listSupplierCalls(company, before, after),
  ];
}

interface Days {
  readonly jobs: ReadonlyMap<string, ReadonlySet<CivilDate>>;
  readonly crews: ReadonlyMap<string, ReadonlySet<CivilDate>>;
}

function toDays(work: PlannedWork): Days {
  const jobs = new Map<string, Set<CivilDate>>();
  const crews = new Map<string, Set<CivilDate>>();
  for (const { job, days } of work.values()) {
    for (const { crew, date } of days) {
      note(jobs, job, date);
      note(crews, crew, date);
    }
  }
  return { jobs, crews };
}

function note(sets: Map<string, Set<CivilDate>>, key: string, date: CivilDate): void {
  const known = sets.get(key);
  if (known) known.add(date);
  else sets.set(key, new Set([date]));
}

const NO_DAYS: ReadonlySet<CivilDate> = new Set();

function compareDays(
  before: ReadonlySet<CivilDate> = NO_DAYS,
  after: ReadonlySet<CivilDate> = NO_DAYS,
): DaysCall | null {
  if (before.size === after.size && [...before].every((date) => after.has(date))) return null;
  const one = [...before].sort(compareTexts);
  const other = [...after].sort(compareTexts);
  return {
    before: one,
    after: other,
    old: one.find((date) => !after.has(date)) ?? null,
    new: other.find((date) => !before.has(date)) ?? null,
  };
}

function listSupplierCalls(company: Company, before: PlannedWork, after: PlannedWork): Call[] {
  return company.jobs.flatMap((job) =>
    job.deliveries.flatMap(({ id, received }): Call[] => {
      if (received) return [];
      const needing = job.tasks.filter((task) => task.status !== "done" && task.needs.includes(id));
      const neededBy = (work: PlannedWork): CivilDate | null => {
        const starts = needing.flatMap((task) => work.get(taskKey(job.id, task.id))?.start ?? []);
        return starts.length === 0 ? null : civilDateAt(Math.min(...starts), zoneOfJob(company, job));
      };
      const [then, now] = [neededBy(before), neededBy(after)];
      return then === now ? [] : [{ kind: "supplier", job: job.id, delivery: id, old: then, new: now }];
    }),
  );
}
