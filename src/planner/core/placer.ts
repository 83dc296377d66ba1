/**
 * Where an activity would go if it were next: the serial schedule-generation scheme (Kelley 1963; Kolisch 1996), with
 * crews whose days have travel, setup and cleanup in them. A trial changes nothing; Timeline.commit makes it so.
 */
import { tryChain } from "./chain-placer.js";
import { findClash } from "./equipment.js";
import { LIFT, type Activity, type CoreTask, type Problem } from "./problem.js";
import { tryGaps } from "./rain-work.js";
import { TailWorker } from "./tail-worker.js";
import { Draft, type Placement, type Timeline } from "./timeline.js";
import { VisitLayer } from "./visit-layer.js";

export class Placer {
  readonly worker: TailWorker;

  constructor(
    readonly problem: Problem,
    readonly timeline: Timeline,
  ) {
    this.worker = new TailWorker(problem, timeline, new VisitLayer(problem));
  }

  /**
   * The placement of an activity with one of its staffings, everything that it follows being placed; null where it
   * does not fit inside the horizon. `lifted` leaves constraints out (see LIFT).
   */
  attempt(index: number, staffing: number, lifted: number): Placement | null {
    const activity = this.problem.activities[index];
    if (!activity) return null;
    switch (activity.kind) {
      case "wait":
        return this.attemptWait(index, activity, lifted);
      case "task":
        return this.attemptTask(index, activity, activity.staffings[staffing]?.[0] ?? -1, lifted);
      case "chain": {
        const crews = activity.staffings[staffing];
        return crews ? tryChain(this, index, activity, crews, lifted) : null;
      }
    }
  }

  /** The minute from which a task may start, by what it follows, its gates and its pins. */
  earliest(task: CoreTask, own: number, lifted: number): number {
    const { problem, timeline } = this;
    let earliest = problem.start;
    if (task.begun) return earliest;
    for (const edge of task.after) {
      if (edge.lift & lifted || problem.activityOf[edge.task] === own) continue;
      const lagMinutes = lifted & LIFT.curing ? 0 : edge.lagMinutes;
      earliest = Math.max(earliest, (timeline.endOf[edge.task] as number) + lagMinutes); // proof: one for each task
    }
    for (const bound of task.bounds) if (!(bound.lift & lifted)) earliest = Math.max(earliest, bound.minute);
    return earliest;
  }

  /** When a wait that starts at a minute ends; at once for work of no length. */
  endOfWait(task: number, start: number): number {
    return (this.problem.tasks[task]?.waitDays ?? -1) < 0 ? start : this.problem.endOfWait(task, start);
  }

  /** A draft of a crew's tail; an empty one when its other work is lifted. */
  draft(crew: number, lifted: number): Draft {
    return new Draft(crew, lifted & LIFT.crewBusy ? null : this.timeline.lastVisit(crew));
  }

  private attemptWait(index: number, activity: Activity, lifted: number): Placement | null {
    const [own] = activity.tasks;
    const task = own === undefined ? undefined : this.problem.tasks[own];
    if (own === undefined || !task) return null;
    const start = task.begun
      ? Math.min(task.startedAt, this.problem.start)
      : this.earliest(task, index, lifted);
    const end = Math.max(this.endOfWait(own, start), this.problem.start);
    return { activity: index, crews: [-1], starts: [start], ends: [end], start, end, drafts: [], inGaps: [] };
  }

  private attemptTask(index: number, activity: Activity, crew: number, lifted: number): Placement | null {
    const [own] = activity.tasks;
    const task = own === undefined ? undefined : this.problem.tasks[own];
    const minutes = task?.minutes[crew] ?? -1;
    if (own === undefined || !task || minutes < 0) return null;
    let earliest = this.earliest(task, index, lifted);
    for (;;) {
      const placement = this.attemptTaskFrom(index, own, task, crew, minutes, earliest, lifted);
      if (placement === null || lifted & LIFT.equipment || task.begun || task.equipment.length === 0)
        return placement;
      const clash = findClash(this.problem, this.timeline, [
        { task: own, start: placement.start, end: placement.end },
      ]);
      if (clash === null) return placement;
      if (clash.until <= earliest) return null;
      earliest = clash.until;
    }
  }

  private attemptTaskFrom(
    index: number,
    own: number,
    task: CoreTask,
    crew: number,
    minutes: number,
    earliest: number,
    lifted: number,
  ): Placement | null {
    // Gaps are there because of a hold: with holds lifted there are none.
    if (!(lifted & (LIFT.crewBusy | LIFT.hold))) {
      const inGaps = tryGaps(this, index, own, task, crew, minutes, earliest, lifted);
      if (inGaps) return inGaps;
    }
    const draft = this.draft(crew, lifted);
    const work = { task: own, unit: -1, trade: task.trade, minutes, earliest, whole: false, lags: [] };
    const done = this.worker.append(draft, task.site, work, null, lifted);
    if (done === null) return null;
    const { start, end } = done;
    return {
      activity: index,
      crews: [crew],
      starts: [start],
      ends: [end],
      start,
      end,
      drafts: [draft],
      inGaps: [],
    };
  }
}
