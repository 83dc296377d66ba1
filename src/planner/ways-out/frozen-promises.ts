/** Published work inside the freeze (rule 11): which of it a schedule keeps with its crew and on its day. */
import type { Compiled } from "../compile/compile.js";
import { Placer } from "../core/placer.js";
import { LIFT } from "../core/problem.js";
import type { Timeline } from "../core/timeline.js";
import { taskKey } from "./planned-work.js";

interface Promised {
  /** Index. */
  readonly task: number;
  readonly crew: number;
  readonly day: number;
}

export class FrozenPromises {
  private readonly promised: readonly Promised[];

  constructor({ company, open, days, promises }: Compiled) {
    const indexOf = new Map(open.map(({ job, task, index }) => [taskKey(job.id, task.id), index]));
    this.promised = promises.flatMap(({ job, task, crew, start }) => {
      const index = indexOf.get(taskKey(job, task));
      if (index === undefined) return [];
      return [
        { task: index, crew: company.crews.findIndex(({ id }) => id === crew), day: days.dayOf(start) },
      ];
    });
  }

  /** Tasks (by index) that are not worked by their crew on each of their days, unless that crew is through before. */
  listUnkept(timeline: Timeline): ReadonlySet<number> {
    const { dayStart } = timeline.problem;
    const unkept = new Set<number>();
    for (const { task, crew, day } of this.promised) {
      const isThrough =
        timeline.crewOf[task] === crew && dayStart.dayOf((timeline.endOf[task] ?? 0) - 1) < day;
      if (!isThrough && !isWorked(timeline, task, crew, day)) unkept.add(task);
    }
    return unkept;
  }

  /**
   * Of tasks that are not kept, those that something else than the crew's other work keeps from their day. Where there are
   * none, all of them.
   */
  listImpossible(timeline: Timeline, unkept: ReadonlySet<number>): ReadonlySet<number> {
    const placer = new Placer(timeline.problem, timeline);
    const impossible = [...unkept].filter((task) => !this.couldBeKept(placer, task));
    return impossible.length > 0 ? new Set(impossible) : unkept;
  }

  /** Whether its crew, with nothing else to do, would work a task on the days that are promised. */
  private couldBeKept(placer: Placer, task: number): boolean {
    const { problem } = placer;
    const index = problem.activityOf[task] ?? -1;
    const activity = problem.activities[index];
    const own = this.promised.filter((one) => one.task === task);
    if (!activity?.after.every((before) => placer.timeline.placed[before])) return false;
    const place = activity.tasks.indexOf(task);
    return activity.staffings.some((crews, staffing) => {
      if (own.some(({ crew }) => crews[place] !== crew)) return false;
      const placement = placer.attempt(index, staffing, LIFT.crewBusy);
      const start = placement?.starts[place];
      return start !== undefined && own.every(({ day }) => problem.dayStart.dayOf(start) <= day);
    });
  }

  /** All tasks that are promised, by index. */
  get tasks(): ReadonlySet<number> {
    return new Set(this.promised.map(({ task }) => task));
  }
}

function isWorked({ visits }: Timeline, task: number, crew: number, day: number): boolean {
  return (visits[crew] ?? []).some(
    (visit) => visit.day === day && visit.items.some((item) => item.task === task && item.minutes > 0),
  );
}
