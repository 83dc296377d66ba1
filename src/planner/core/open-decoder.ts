/**
 * Serial schedule generation in open time (Kelley 1963; Kolisch 1996): each activity in its turn starts as early as what
 * it follows, its crew's line and the equipment allow, also in gaps left by those before it. Works forward or backward:
 * a backward schedule is the forward one of the mirrored problem, its times counted from the end.
 */
import type { Problem } from "./problem.js";
import { toRows, type Rows, type ScheduleDecoder } from "./schedule-decoder.js";

export class OpenDecoder implements ScheduleDecoder {
  readonly count: number;
  readonly start: Int32Array;
  readonly end: Int32Array;
  readonly staffings: Rows;
  readonly before: Rows;
  readonly behind: Rows;
  readonly load: Float64Array;
  readonly uses: Rows;
  readonly capacity: Int32Array;
  readonly tails: Float64Array;
  readonly group: Int32Array;
  readonly groupCount = 1;
  readonly canMirror: boolean;
  tie = 0;
  private readonly release: Int32Array;
  private readonly horizon: number;
  /** Units in use at `equipment * horizon + minute`. */
  private readonly profile: Int32Array;
  private readonly lineStart: Int32Array[];
  private readonly lineEnd: Int32Array[];
  private readonly lineCount: Int32Array;
  private usedUntil = 0;

  constructor(readonly problem: Problem) {
    const { activities, tasks, crewCount, equipmentCount } = problem;
    const facts = activities.map((activity) => tasks[activity.tasks[0] ?? -1]);
    this.count = activities.length;
    this.group = new Int32Array(this.count);
    this.start = new Int32Array(this.count);
    this.end = new Int32Array(this.count);
    this.staffings = toRows(
      activities.map((activity, index) =>
        activity.staffings.map((crews) => {
          const crew = crews[0] ?? -1;
          return [
            crew,
            crew < 0 ? (facts[index]?.fixedMinutes ?? 0) : (facts[index]?.minutes[crew] ?? 0),
          ] as const;
        }),
      ),
    );
    const edges = facts.map((task) =>
      (task?.after ?? []).map((edge) => [edge.task, edge.lagMinutes] as const),
    );
    const followers: (readonly [number, number])[][] = activities.map(() => []);
    edges.forEach((row, index) => row.forEach(([task, lag]) => followers[task]?.push([index, lag])));
    this.before = toRows(edges);
    this.behind = toRows(followers);
    this.uses = toRows(
      facts.map((task) => (task?.equipment ?? []).map((use) => [use.equipment, use.amount] as const)),
    );
    this.release = Int32Array.from(facts, (task) =>
      Math.max(0, ...(task?.bounds ?? []).map((bound) => bound.minute)),
    );
    this.capacity = Int32Array.from(equipmentCount);
    this.canMirror = this.release.every((minute) => minute === 0);
    this.tails = Float64Array.from(activities, (activity) => activity.tailMinutes);
    this.load = Float64Array.from(facts, (task) =>
      (task?.equipment ?? []).reduce(
        (sum, use) => sum + use.amount / (equipmentCount[use.equipment] ?? 1),
        0,
      ),
    );
    this.horizon = problem.horizon;
    this.profile = new Int32Array(equipmentCount.length * this.horizon);
    const perCrew = new Int32Array(crewCount);
    for (const crew of this.staffings.item) if (crew >= 0) perCrew[crew] = (perCrew[crew] ?? 0) + 1;
    this.lineStart = Array.from(perCrew, (most) => new Int32Array(most + 1));
    this.lineEnd = Array.from(perCrew, (most) => new Int32Array(most + 1));
    this.lineCount = new Int32Array(crewCount);
  }

  /** Decodes activities in an order that respects precedence in that direction; the makespan. */
  decode(order: Int32Array, staffing: Int32Array, backward: boolean): number {
    const { count, start, end, staffings, release } = this;
    const rows = backward ? this.behind : this.before;
    this.clear();
    let makespan = 0;
    let tie = 0;
    for (let at = 0; at < count; at++) {
      const activity = order[at] as number; // proof: order has `count` entries
      const choice = (staffings.from[activity] as number) + (staffing[activity] as number); // proof: rows cover all activities
      const crew = staffings.item[choice] as number;
      const minutes = staffings.value[choice] as number;
      let earliest = backward ? 0 : (release[activity] as number);
      for (let edge = rows.from[activity] as number; edge < (rows.from[activity + 1] as number); edge++) {
        const ready = (end[rows.item[edge] as number] as number) + (rows.value[edge] as number);
        if (ready > earliest) earliest = ready;
      }
      const begin = minutes === 0 ? earliest : this.fit(activity, crew, minutes, earliest);
      start[activity] = begin;
      end[activity] = begin + minutes;
      if (begin + minutes > makespan) makespan = begin + minutes;
      tie += begin + minutes;
      if (minutes > 0) this.occupy(activity, crew, begin, begin + minutes);
    }
    this.usedUntil = makespan;
    this.tie = tie;
    return makespan;
  }

  private clear(): void {
    const { profile, capacity, horizon, usedUntil, lineCount } = this;
    for (let equipment = 0; equipment < capacity.length; equipment++) {
      profile.fill(0, equipment * horizon, equipment * horizon + usedUntil);
    }
    lineCount.fill(0);
  }

  /** The first minute from `earliest` on at which crew and equipment are free for so long. */
  private fit(activity: number, crew: number, minutes: number, earliest: number): number {
    let begin = earliest;
    for (;;) {
      if (crew >= 0) begin = this.fitLine(crew, minutes, begin);
      const free = this.fitEquipment(activity, minutes, begin);
      if (free === begin) return begin;
      begin = free;
      if (crew < 0) return begin;
    }
  }

  private fitLine(crew: number, minutes: number, earliest: number): number {
    const starts = this.lineStart[crew] as Int32Array; // proof: one line for each crew
    const ends = this.lineEnd[crew] as Int32Array;
    const count = this.lineCount[crew] as number;
    let low = 0;
    let high = count;
    // The first stretch that ends after `earliest`.
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((ends[middle] as number) <= earliest) low = middle + 1;
      else high = middle;
    }
    let begin = earliest;
    for (let at = low; at < count; at++) {
      if (begin + minutes <= (starts[at] as number)) return begin;
      begin = ends[at] as number;
    }
    return begin;
  }

  private fitEquipment(activity: number, minutes: number, earliest: number): number {
    const { uses, profile, capacity, horizon } = this;
    const first = uses.from[activity] as number;
    const last = uses.from[activity + 1] as number;
    if (first === last) return earliest;
    let begin = earliest;
    for (let use = first; use < last;) {
      const equipment = uses.item[use] as number;
      const room = (capacity[equipment] as number) - (uses.value[use] as number);
      const base = equipment * horizon;
      let at = begin + minutes - 1;
      while (at >= begin && (profile[base + at] as number) <= room) at--;
      if (at < begin) use++;
      else {
        begin = at + 1;
        use = first;
      }
    }
    return begin;
  }

  private occupy(activity: number, crew: number, begin: number, until: number): void {
    const { uses, profile, horizon } = this;
    for (let use = uses.from[activity] as number; use < (uses.from[activity + 1] as number); use++) {
      const amount = uses.value[use] as number;
      const base = (uses.item[use] as number) * horizon;
      for (let at = base + begin; at < base + until; at++) profile[at] = (profile[at] as number) + amount;
    }
    if (crew < 0) return;
    const starts = this.lineStart[crew] as Int32Array;
    const ends = this.lineEnd[crew] as Int32Array;
    let at = this.lineCount[crew] as number;
    this.lineCount[crew] = at + 1;
    while (at > 0 && (starts[at - 1] as number) > begin) {
      starts[at] = starts[at - 1] as number;
      ends[at] = ends[at - 1] as number;
      at--;
    }
    starts[at] = begin;
    ends[at] = until;
  }
}
