/**
 * Problems whose crews are lines: in open time, each task worked by one crew (or by none), no counted equipment. Then a
 * schedule is fully said by who works what, and in which order each crew works its own; the rest is longest paths.
 */
import type { Problem } from "../problem.js";
import { toRows, type Rows } from "../schedule-decoder.js";

export interface LineProblem {
  readonly count: number;
  readonly crewCount: number;
  /** Minutes before which a task may not start. */
  readonly release: Int32Array;
  /** What each task follows (item) and by how many minutes (value); and what follows it. */
  readonly before: Rows;
  readonly behind: Rows;
  /** Ways to staff each task: the line that it takes a place in (item, −1 for none) and its minutes (value). */
  readonly options: Rows;
}

/**
 * Whether the search on lines can work on a problem: open time, some task with a crew, none with equipment, one task to
 * an activity, no negative lag (which would let a task start before one that it follows).
 */
export function appliesToLines({ time, activities, tasks }: Problem): boolean {
  return (
    time === "open" &&
    activities.length === tasks.length &&
    activities.every(
      ({ kind, tasks: own, staffings }, index) =>
        kind === "task" && own.length === 1 && own[0] === index && staffings.length > 0,
    ) &&
    tasks.every((task) => task.equipment.length === 0 && task.after.every((edge) => edge.lagMinutes >= 0)) &&
    activities.some(({ staffings }) => staffings.some((crews) => (crews[0] ?? -1) >= 0))
  );
}

/** The lines of a problem that `appliesToLines`. A task of no minutes takes no place in a line. */
export function toLineProblem({ tasks, activities, crewCount }: Problem): LineProblem {
  const behind: (readonly [number, number])[][] = tasks.map(() => []);
  tasks.forEach(({ after }, index) =>
    after.forEach(({ task, lagMinutes }) => behind[task]?.push([index, lagMinutes])),
  );
  return {
    count: tasks.length,
    crewCount,
    release: Int32Array.from(tasks, ({ bounds }) => Math.max(0, ...bounds.map((bound) => bound.minute))),
    before: toRows(
      tasks.map(({ after }) => after.map(({ task, lagMinutes }) => [task, lagMinutes] as const)),
    ),
    behind: toRows(behind),
    options: toRows(
      tasks.map((task, index) =>
        (activities[index]?.staffings ?? []).map((crews) => {
          const crew = crews[0] ?? -1;
          const minutes = crew < 0 ? task.fixedMinutes : (task.minutes[crew] ?? 0);
          return [minutes > 0 ? crew : -1, minutes] as const;
        }),
      ),
    ),
  };
}
