/**
 * Changes against the published plan: tasks whose crews and dates of work are no longer the same (reading 24).
 */
import type { Compiled } from "../compile/compile.js";
import type { Timeline } from "../core/timeline.js";

/** By `job/task`, the set of `crew/date` on which it is worked. */
export type WorkDates = ReadonlyMap<string, ReadonlySet<string>>;

/** What is published from the as-of date on and not done. */
export interface PublishedDates {
  /** Of each open task (by index) its crew-days, as crew · days of the horizon + day. */
  readonly byTask: ReadonlyMap<number, ReadonlySet<number>>;
  /** Tasks that no plan can hold any more. */
  readonly gone: number;
}

/** Null where nothing is published. */
export function listPublishedDates(compiled: Compiled): PublishedDates | null {
  const { company, days, problem, open } = compiled;
  if (company.published === null) return null;
  const undone = new Set(
    company.jobs.flatMap((job) =>
      job.tasks.filter((task) => task.status !== "done").map((task) => `${job.id}/${task.id}`),
    ),
  );
  const crewIndex = new Map(company.crews.map((crew, index) => [crew.id, index]));
  const taskIndex = new Map(open.map(({ job, task, index }) => [`${job.id}/${task.id}`, index]));
  const byTask = new Map<number, Set<number>>();
  const gone = new Set<string>();
  const firstMinute = days.at(days.dayOf(problem.start));
  for (const block of company.published) {
    const name = `${block.job ?? ""}/${block.task ?? ""}`;
    if (block.kind !== "work" || !undone.has(name)) continue;
    const start = days.parse(block.start);
    if (start < firstMinute) continue;
    const task = taskIndex.get(name);
    if (task === undefined) {
      gone.add(name);
      continue;
    }
    const day = days.dayOf(start);
    // A crew that is no longer there works on no day of any plan, and nobody works behind the horizon.
    const crew = day < problem.dayCount ? crewIndex.get(block.crew) : undefined;
    const crewDay = (crew ?? problem.crewCount) * problem.dayCount + day;
    const known = byTask.get(task);
    if (known) known.add(crewDay);
    else byTask.set(task, new Set([crewDay]));
  }
  return { byTask, gone: gone.size };
}

/** How many published tasks are no longer worked on the same days by the same crews. */
export function countChanges(
  { problem }: Compiled,
  timeline: Timeline,
  published: PublishedDates | null,
): number {
  if (published === null || published.byTask.size === 0) return published?.gone ?? 0;
  const { byTask } = published;
  const lastCrewDay = new Int32Array(problem.tasks.length).fill(-1);
  const kept = new Int32Array(problem.tasks.length);
  const others = new Int32Array(problem.tasks.length);
  // A task is worked by one crew, and its line is in order of time: a day comes once, or several times on end.
  for (const [crew, visits] of timeline.visits.entries()) {
    for (const { day, items } of visits) {
      const crewDay = crew * problem.dayCount + day;
      for (const { task, minutes } of items) {
        if (minutes === 0 || lastCrewDay[task] === crewDay) continue;
        lastCrewDay[task] = crewDay;
        const counts = byTask.get(task)?.has(crewDay) ? kept : others;
        counts[task] = (counts[task] ?? 0) + 1;
      }
    }
  }
  let changes = published.gone;
  for (const [task, before] of byTask) if (kept[task] !== before.size || (others[task] ?? 0) > 0) changes++;
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
