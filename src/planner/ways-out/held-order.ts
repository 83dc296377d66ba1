/**
 * The order of a standing plan, held for the company as it is after a slip: the same crews, each with the same tasks in
 * the same order. What is under way comes first, as everywhere. A task that the standing plan does not know goes to the
 * crew that is at its house: as soon as it may start where something waits for it, else behind that crew's work there.
 */
import type { Plan } from "../../domain/plan-format.js";
import type { Minute } from "../../domain/time.js";
import type { Compiled } from "../compile/compile.js";
import { Heap } from "../core/heap.js";
import type { Activity } from "../core/problem.js";
import type { Genome } from "../core/search.js";
import { taskKey } from "./planned-work.js";

export interface HeldOrder extends Genome {
  /** Activities that come before everything else, in their order: under way, or standing open. */
  readonly first: readonly number[];
  /** By activity, when the standing plan starts and ends it (minutes); for what it does not know, when that may start. */
  readonly starts: Float64Array;
  readonly ends: Float64Array;
  /** By activity, whether the standing plan has it with a crew that may still work it. */
  readonly isKnown: Uint8Array;
}

interface Planned {
  readonly crew: number;
  readonly start: Minute;
  readonly end: Minute;
}

export function buildHeldOrder(compiled: Compiled, standing: Plan): HeldOrder {
  const builder = new Builder(compiled, standing);
  return builder.build();
}

class Builder {
  private readonly planned: readonly (Planned | undefined)[];
  private readonly staffing: Int32Array;
  private readonly starts: Float64Array;
  private readonly ends: Float64Array;
  private readonly isKnown: Uint8Array;

  constructor(
    private readonly compiled: Compiled,
    standing: Plan,
  ) {
    const { problem, open, company, days } = compiled;
    const crewIndex = new Map(company.crews.map((crew, index) => [crew.id, index]));
    const entries = new Map(standing.tasks.map((task) => [taskKey(task.job, task.task), task]));
    this.planned = open.map(({ job, task }) => {
      const entry = entries.get(taskKey(job.id, task.id));
      if (!entry) return undefined;
      const crew = entry.crew === null ? -1 : (crewIndex.get(entry.crew) ?? -1);
      return { crew, start: days.parse(entry.start), end: days.parse(entry.end) };
    });
    const { length } = problem.activities;
    this.staffing = new Int32Array(length);
    this.starts = new Float64Array(length);
    this.ends = new Float64Array(length);
    this.isKnown = new Uint8Array(length);
  }

  build(): HeldOrder {
    const { activities } = this.compiled.problem;
    for (const [index, activity] of activities.entries()) this.takeOver(index, activity);
    for (const [index, activity] of activities.entries())
      if (!this.isKnown[index]) this.findPlace(index, activity);
    const first = this.listFirst();
    const { staffing, starts, ends, isKnown } = this;
    return { order: this.orderAll(first), staffing, starts, ends, isKnown, first };
  }

  /** Staffing, start and end as in the standing plan, where its crews may still do the work. */
  private takeOver(index: number, activity: Activity): void {
    const own = activity.tasks.map((task) => this.planned[task]);
    const known = own.filter((one) => one !== undefined);
    if (known.length === 0) return;
    this.starts[index] = Math.min(...known.map(({ start }) => start));
    this.ends[index] = Math.max(...known.map(({ end }) => end));
    const same = activity.staffings.findIndex((crews) =>
      own.every((one, place) => !one || one.crew < 0 || crews[place] === one.crew),
    );
    if (same >= 0) this.staffing[index] = same;
    if (same >= 0 || activity.staffings.length === 0) this.isKnown[index] = 1;
    else this.staffing[index] = this.findCrew(activity);
  }

  /** The staffing of the crews that work most at the house; the first where nobody does. */
  private findCrew(activity: Activity): number {
    const tasksOfCrew = new Map<number, number>();
    for (const [task, one] of this.planned.entries()) {
      if (!one || one.crew < 0 || this.compiled.problem.tasks[task]?.site !== activity.site) continue;
      tasksOfCrew.set(one.crew, (tasksOfCrew.get(one.crew) ?? 0) + 1);
    }
    let best = 0;
    let most = -1;
    for (const [staffing, crews] of activity.staffings.entries()) {
      const score = crews.reduce((sum, crew) => sum + (tasksOfCrew.get(crew) ?? 0), 0);
      if (score > most) [best, most] = [staffing, score];
    }
    return best;
  }

  /** Where something that the standing plan does not know goes. Predecessors have smaller numbers and are placed. */
  private findPlace(index: number, activity: Activity): void {
    const { problem } = this.compiled;
    if ((this.starts[index] ?? 0) > 0) return;
    this.staffing[index] = this.findCrew(activity);
    let ready = problem.start;
    for (const task of activity.tasks) {
      for (const bound of problem.tasks[task]?.bounds ?? []) ready = Math.max(ready, bound.minute);
      for (const { task: before, lagMinutes } of problem.tasks[task]?.after ?? []) {
        const earlier = problem.activityOf[before] ?? -1;
        if (earlier !== index) ready = Math.max(ready, (this.ends[earlier] ?? 0) + lagMinutes);
      }
    }
    const crews = activity.staffings[this.staffing[index] ?? 0] ?? new Int32Array();
    if (activity.followers.length === 0) ready = Math.max(ready, this.lastStartThere(activity.site, crews));
    const minutes = activity.tasks.reduce(
      (sum, task, place) => sum + Math.max(0, problem.tasks[task]?.minutes[crews[place] ?? -1] ?? 0),
      0,
    );
    this.starts[index] = ready;
    this.ends[index] = ready + minutes;
  }

  /** Just behind the last start of some crews at a house. */
  private lastStartThere(site: number, crews: Int32Array): Minute {
    let last = 0;
    for (const [task, one] of this.planned.entries()) {
      if (one && crews.includes(one.crew) && this.compiled.problem.tasks[task]?.site === site)
        last = Math.max(last, one.start + 1);
    }
    return last;
  }

  private listFirst(): readonly number[] {
    const { activities, tasks } = this.compiled.problem;
    const isFirst = (activity: Activity): boolean =>
      activity.rank >= 0 &&
      (activity.tasks.some((task) => tasks[task]?.begun) ||
        activity.chain?.openAtStart.includes(true) === true);
    const ranked = [...activities.keys()]
      .filter((index) => isFirst(activities[index] as Activity)) // proof: an index of the list
      .sort((a, b) => (activities[a]?.rank ?? 0) - (activities[b]?.rank ?? 0));
    const first = new Set<number>();
    const add = (index: number): void => {
      if (first.has(index)) return;
      for (const before of activities[index]?.after ?? []) add(before);
      first.add(index);
    };
    ranked.forEach(add);
    return [...first];
  }

  /**
   * What comes first, then by start: after what it follows, and after what its crews do before it. Where a crew's line no
   * longer agrees with what follows what, precedence wins.
   */
  private orderAll(first: readonly number[]): Int32Array {
    const { activities } = this.compiled.problem;
    const lineFollowers: number[][] = activities.map(() => []);
    for (const line of this.listLines(new Set(first))) {
      for (const [place, activity] of line.entries()) {
        const next = line[place + 1];
        if (next !== undefined) lineFollowers[activity]?.push(next);
      }
    }
    const waitingFor = Int32Array.from(activities, (activity) => activity.after.length);
    const waitingInLine = new Int32Array(activities.length);
    for (const next of lineFollowers.flat()) waitingInLine[next] = (waitingInLine[next] ?? 0) + 1;
    const isDone = new Uint8Array(activities.length);
    const heap = new Heap();
    const offer = (index: number): void => {
      if (waitingFor[index] === 0 && waitingInLine[index] === 0 && !isDone[index])
        heap.push(index, this.starts[index] ?? 0, index);
    };
    const order: number[] = [];
    const take = (index: number): void => {
      isDone[index] = 1;
      order.push(index);
      for (const next of activities[index]?.followers ?? []) {
        waitingFor[next] = (waitingFor[next] ?? 0) - 1;
        offer(next);
      }
      for (const next of lineFollowers[index] ?? []) {
        waitingInLine[next] = (waitingInLine[next] ?? 0) - 1;
        offer(next);
      }
    };
    for (const index of activities.keys()) offer(index);
    first.forEach(take);
    while (order.length < activities.length) {
      const next = heap.pop() ?? this.findReady(waitingFor, isDone);
      if (!isDone[next]) take(next);
    }
    return Int32Array.from(order);
  }

  /** Of what only a line keeps back, the first by its start. */
  private findReady(waitingFor: Int32Array, isDone: Uint8Array): number {
    let best = -1;
    for (const [index, start] of this.starts.entries()) {
      if (waitingFor[index] !== 0 || isDone[index]) continue;
      if (best < 0 || start < (this.starts[best] ?? 0)) best = index;
    }
    return best;
  }

  /** Each crew's activities by their start, without those that come first. */
  private listLines(first: ReadonlySet<number>): readonly (readonly number[])[] {
    const { activities, crewCount } = this.compiled.problem;
    const lines: { activity: number; start: Minute }[][] = Array.from({ length: crewCount }, () => []);
    for (const [index, activity] of activities.entries()) {
      const crews = activity.staffings[this.staffing[index] ?? 0];
      if (!crews || first.has(index)) continue;
      for (const crew of new Set(crews)) {
        const own = activity.tasks.flatMap((task, place) =>
          crews[place] === crew ? [this.planned[task]?.start ?? this.starts[index] ?? 0] : [],
        );
        lines[crew]?.push({ activity: index, start: Math.min(...own) });
      }
    }
    return lines.map((line) =>
      line
        .sort(
          (a, b) =>
            a.start - b.start ||
            Number(this.isKnown[a.activity]) - Number(this.isKnown[b.activity]) ||
            a.activity - b.activity,
        )
        .map(({ activity }) => activity),
    );
  }
}
