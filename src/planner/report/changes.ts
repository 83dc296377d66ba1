/**
 * Changes against the published plan: tasks whose crews and dates of work are no longer the same (reading 24).
 */
import type { Compiled } from "../compile/compile.js";
import type { Timeline } from "../core/timeline.js";

/** By `job/task`, the set of `crew/date` on which it is worked. */
export type WorkDates = ReadonlyMap<string, ReadonlySet<string>>;

/** What is published from the as-of date on and not done; null where nothing is published. */
export function listPublishedDates({ company, days, problem }: Compiled): WorkDates | null {
  if (company.published === null) return null;
  const undone = new Set(
    company.jobs.flatMap((job) =>
      job.tasks.filter((task) => task.status !== "done").map((task) => `${job.id}/${task.id}`),
    ),
  );
  const dates = new Map<string, Set<string>>();
  const firstMinute = days.at(days.dayOf(problem.start));
  for (const block of company.published) {
    const name = `${block.job ?? ""}/${block.task ?? ""}`;
    const start = days.parse(block.start);
    if (block.kind === "work" && undone.has(name) && start >= firstMinute) {
      note(dates, name, `${block.crew}/${days.date(days.dayOf(start))}`);
    }
  }
  return dates;
}

export function countChanges(compiled: Compiled, timeline: Timeline, published: WorkDates | null): number {
  if (published === null || published.size === 0) return 0;
  const planned = listWorkDates(compiled, timeline);
  let changes = 0;
  for (const [name, before] of published) {
    const now = planned.get(name) ?? new Set<string>();
    if (now.size !== before.size || [...before].some((one) => !now.has(one))) changes++;
  }
  return changes;
}

/** The crews and dates on which a plan works each task. */
export function listWorkDates({ open, company, days }: Compiled, timeline: Timeline): WorkDates {
  const dates = new Map<string, Set<string>>();
  for (const visit of timeline.visits.flat()) {
    for (const { task, minutes } of visit.items) {
      const facts = open[task];
      if (!facts || minutes === 0) continue;
      note(
        dates,
        `${facts.job.id}/${facts.task.id}`,
        `${company.crews[visit.crew]?.id ?? ""}/${days.date(visit.day)}`,
      );
    }
  }
  return dates;
}

function note(dates: Map<string, Set<string>>, task: string, crewDate: string): void {
  const known = dates.get(task);
  if (known) known.add(crewDate);
  else dates.set(task, new Set([crewDate]));
}
