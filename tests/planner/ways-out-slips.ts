/** Random slips: what can happen to any company between one plan and the next, as a change of its file. */
import * as fc from "fast-check";
import type { CompanyInput } from "../../src/domain/company-schema.js";
import { addDays, civilDateAt, type Minute } from "../../src/domain/time.js";
import { mayWork } from "../../src/planner/compile/staffing.js";
import { parsed } from "../support/company-builder.js";

type JobInput = NonNullable<CompanyInput["jobs"]>[number];
type TaskInput = NonNullable<JobInput["tasks"]>[number];

export const slipKinds = [
  "more-hours",
  "crew-out",
  "delivery-moved",
  "hold-added",
  "task-added",
  "promise-changed",
  "paused",
] as const;

export interface SlipChoice {
  readonly kind: (typeof slipKinds)[number];
  readonly pick: number;
  readonly days: number;
  readonly hours: number;
  readonly flag: boolean;
}

export const anySlip: fc.Arbitrary<SlipChoice> = fc.record({
  kind: fc.constantFrom(...slipKinds),
  pick: fc.nat(1000),
  days: fc.integer({ min: 1, max: 9 }),
  hours: fc.integer({ min: 1, max: 30 }),
  flag: fc.boolean(),
});

/** The file after a slip; null where there is nothing that it could happen to. */
export function slip(input: CompanyInput, asOf: Minute, choice: SlipChoice): CompanyInput | null {
  const company = parsed(input);
  const { pick, days, hours, flag } = choice;
  const today = civilDateAt(asOf, company.company.timeZone);
  const jobs = input.jobs ?? [];
  const openWork = company.jobs.flatMap((job, jobIndex) =>
    job.tasks.flatMap((task, index) =>
      task.status !== "done" && task.trade !== null ? [{ jobIndex, index, task }] : [],
    ),
  );
  const work = openWork[pick % Math.max(1, openWork.length)];
  const onTask = (edit: (task: TaskInput) => TaskInput): CompanyInput | null =>
    work
      ? {
          ...input,
          jobs: jobs.map((job, at) =>
            at === work.jobIndex
              ? {
                  ...job,
                  tasks: (job.tasks ?? []).map((task, place) => (place === work.index ? edit(task) : task)),
                }
              : job,
          ),
        }
      : null;
  switch (choice.kind) {
    case "more-hours":
      return onTask((task) =>
        task.status === "under-way" && typeof task.leftHours === "number"
          ? { ...task, leftHours: task.leftHours + hours }
          : { ...task, laborHours: (task.laborHours ?? 0) + hours },
      );
    case "crew-out":
      return {
        ...input,
        crews: input.crews.map((crew, at) =>
          at === pick % input.crews.length
            ? { ...crew, off: [...(crew.off ?? []), { from: today, to: addDays(today, days), why: "ill" }] }
            : crew,
        ),
      };
    case "delivery-moved": {
      const waiting = jobs.flatMap((job, at) =>
        (job.deliveries ?? []).some(({ received }) => !received) ? [at] : [],
      );
      const chosen = waiting[pick % Math.max(1, waiting.length)];
      if (chosen === undefined) return null;
      return {
        ...input,
        jobs: jobs.map((job, at) =>
          at === chosen
            ? {
                ...job,
                deliveries: (job.deliveries ?? []).map((delivery) =>
                  delivery.received ? delivery : { ...delivery, expected: addDays(today, flag ? days : 0) },
                ),
              }
            : job,
        ),
      };
    }
    case "hold-added":
      return {
        ...input,
        holds: [
          ...(input.holds ?? []),
          {
            id: "slip-hold",
            from: `${addDays(today, days % 4)}T06:00`,
            to: `${addDays(today, (days % 4) + 1)}T12:00`,
            trades: flag ? "outdoor" : "all",
            jobs: "all",
            why: "rain",
            source: "hand",
          },
        ],
      };
    case "task-added": {
      if (
        !work ||
        work.task.trade === null ||
        !company.crews.some((crew) =>
          mayWork(crew, { ...work.task, crew: null, minCrew: 1, status: "to-do" }),
        )
      )
        return null;
      const found: TaskInput = {
        id: "slip-task",
        trade: work.task.trade,
        title: "Rot found",
        laborHours: hours,
        after: [{ task: work.task.id }],
      };
      return {
        ...input,
        jobs: jobs.map((job, at) =>
          at === work.jobIndex ? { ...job, tasks: [...(job.tasks ?? []), found] } : job,
        ),
      };
    }
    case "promise-changed":
      return {
        ...input,
        jobs: jobs.map((job, at) =>
          at === pick % jobs.length ? { ...job, promised: addDays(today, days * 2) } : job,
        ),
      };
    case "paused":
      return onTask((task) => ({ ...task, notBefore: addDays(today, days) }));
  }
}
