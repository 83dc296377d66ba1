/**
 * What every crew does, as visits in order of time, and what each task has got. Work is added at a crew's tail, or into
 * a gap that a hold tears into a task that has begun. Everything that is added is first drafted and then committed.
 */
import { FOREVER, NEVER, type Problem } from "./problem.js";
import type { Visit } from "./visit.js";

/** Time that a hold takes from a task that has begun, and that its crew may fill with other work. */
export interface Gap {
  readonly crew: number;
  readonly day: number;
  readonly from: number;
  /** Other work must be done, cleaned up and left by then. */
  readonly leaveBy: number;
  /** The visit of that day before the gap, or null. */
  readonly before: Visit | null;
  /** The visit of that day after the gap, which must still be reached, or null. */
  readonly next: Visit | null;
  /** Gaps of one hold in one task belong together. */
  readonly group: number;
  /** Activity that is held. */
  readonly held: number;
}

/** A crew's tail with what is being tried on it. */
export class Draft {
  /** The committed last visit with work added to it, if any. */
  extended: Visit | null = null;
  added: readonly Visit[] = [];

  constructor(
    readonly crew: number,
    readonly base: Visit | null,
  ) {}

  get last(): Visit | null {
    return this.added.at(-1) ?? this.extended ?? this.base;
  }

  /** Puts `visit` in place of the last one (`grow`) or behind it. */
  put(visit: Visit, grow: boolean): void {
    if (!grow) this.added = [...this.added, visit];
    else if (this.added.length > 0) this.added = [...this.added.slice(0, -1), visit];
    else this.extended = visit;
  }

  /** The visits that this draft changes or adds, in order. */
  list(): readonly Visit[] {
    return this.extended ? [this.extended, ...this.added] : this.added;
  }

  mark(): { readonly extended: Visit | null; readonly added: readonly Visit[] } {
    return { extended: this.extended, added: this.added };
  }

  reset(mark: { readonly extended: Visit | null; readonly added: readonly Visit[] }): void {
    this.extended = mark.extended;
    this.added = mark.added;
  }
}

/** The result of a trial: what would be committed. */
export interface Placement {
  readonly activity: number;
  /** Crew of each of the activity's tasks; −1 for a wait. */
  readonly crews: readonly number[];
  readonly starts: readonly number[];
  readonly ends: readonly number[];
  readonly start: number;
  readonly end: number;
  readonly drafts: readonly Draft[];
  /** Visits put into gaps, with the gap each was put into. */
  readonly inGaps: readonly { readonly gap: Gap; readonly visit: Visit }[];
}

export class Timeline {
  readonly visits: Visit[][];
  readonly gaps: Gap[][];
  readonly crewOf: Int32Array;
  readonly startOf: Int32Array;
  readonly endOf: Int32Array;
  /** Start of the earliest follower less its lag: how far a task's end may still be pushed. */
  readonly latestEnd: Int32Array;
  /** The activity at each crew's tail, or −1. */
  readonly lastActivity: Int32Array;
  /** Counts up with each change of a crew's line. */
  readonly version: Int32Array;
  readonly placed: Uint8Array;
  /** Activities in the order in which they were committed. */
  readonly order: number[] = [];
  /** Per equipment: start, end, amount, task, … */
  readonly equipmentUse: number[][];
  private groups = 0;

  constructor(readonly problem: Problem) {
    const { crewCount, tasks, activities, equipmentCount } = problem;
    this.visits = Array.from({ length: crewCount }, () => []);
    this.gaps = Array.from({ length: crewCount }, () => []);
    this.crewOf = new Int32Array(tasks.length).fill(-1);
    this.startOf = new Int32Array(tasks.length).fill(NEVER);
    this.endOf = new Int32Array(tasks.length).fill(NEVER);
    this.latestEnd = new Int32Array(tasks.length).fill(FOREVER);
    this.lastActivity = new Int32Array(crewCount).fill(-1);
    this.version = new Int32Array(crewCount);
    this.placed = new Uint8Array(activities.length);
    this.equipmentUse = equipmentCount.map(() => []);
  }

  nextGroup(): number {
    this.groups += 1;
    return this.groups;
  }

  lastVisit(crew: number): Visit | null {
    return this.visits[crew]?.at(-1) ?? null;
  }

  commit(placement: Placement, newGaps: readonly Gap[]): void {
    const { problem } = this;
    const activity = problem.activities[placement.activity];
    if (!activity) throw new RangeError(`no activity ${placement.activity}`);
    for (const draft of placement.drafts) {
      const line = this.visits[draft.crew];
      if (!line) continue;
      if (draft.extended) {
        const old = line[line.length - 1];
        line[line.length - 1] = draft.extended;
        const pushedBack = old && old.items[0]?.start !== draft.extended.items[0]?.start;
        if (pushedBack) for (const item of old.items) this.retime(item.task, draft.extended);
      }
      line.push(...draft.added);
      this.lastActivity[draft.crew] = placement.activity;
      this.version[draft.crew] = (this.version[draft.crew] ?? 0) + 1;
    }
    for (const { gap, visit } of placement.inGaps) this.fillGap(gap, visit);
    for (const gap of newGaps) this.gaps[gap.crew]?.push(gap);
    activity.tasks.forEach((task, place) => {
      this.crewOf[task] = placement.crews[place] ?? -1;
      this.startOf[task] = placement.starts[place] ?? NEVER;
      this.endOf[task] = placement.ends[place] ?? NEVER;
      this.bindPredecessors(task);
      this.useEquipment(task);
    });
    this.placed[placement.activity] = 1;
    this.order.push(placement.activity);
  }

  private bindPredecessors(task: number): void {
    for (const edge of this.problem.tasks[task]?.after ?? []) {
      const bound = (this.startOf[task] ?? NEVER) - edge.lagMinutes;
      if (bound < (this.latestEnd[edge.task] ?? FOREVER)) this.latestEnd[edge.task] = bound;
    }
  }

  private useEquipment(task: number): void {
    const facts = this.problem.tasks[task];
    for (const use of facts?.equipment ?? []) {
      const from = facts?.begun ? this.problem.start : (this.startOf[task] ?? NEVER);
      this.equipmentUse[use.equipment]?.push(from, this.endOf[task] ?? NEVER, use.amount, task);
    }
  }

  /** Takes a task's times over from a visit whose work was pushed back. */
  private retime(task: number, visit: Visit): void {
    const items = visit.items.filter((item) => item.task === task);
    const first = items[0];
    const last = items.at(-1);
    if (!first || !last || this.endOf[task] === NEVER) return;
    const earlier = this.visits[visit.crew]?.some(
      (other) => other !== visit && other.items.some((item) => item.task === task),
    );
    if (!earlier) this.startOf[task] = first.start;
    this.endOf[task] = last.end;
  }

  private fillGap(gap: Gap, visit: Visit): void {
    const line = this.visits[gap.crew] ?? [];
    const at = line.findIndex((other) => other.setupStart > visit.setupStart);
    line.splice(at < 0 ? line.length : at, 0, visit);
    const gaps = this.gaps[gap.crew] ?? [];
    let { next } = gap;
    if (next) {
      const behind = line.indexOf(next);
      next = { ...next, before: visit };
      if (behind >= 0) line[behind] = next;
    }
    const index = gaps.indexOf(gap);
    if (index >= 0) gaps[index] = { ...gap, from: visit.leave, before: visit, next };
    this.version[gap.crew] = (this.version[gap.crew] ?? 0) + 1;
  }
}
