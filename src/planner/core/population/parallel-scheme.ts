/**
 * Parallel schedule generation in open time (Kelley 1963; Kolisch 1996): minute by minute, of all that could start now,
 * what has the least key starts first, and nothing waits that could start. Such schedules are tight where the serial
 * scheme leaves gaps. The serial decoder makes the same schedule of the activities sorted by start.
 */
import type { Problem } from "../problem.js";
import type { ScheduleDecoder } from "../schedule-decoder.js";

export class ParallelScheme {
  readonly start: Int32Array;
  readonly end: Int32Array;
  tie = 0;
  private readonly free: Int32Array;
  private readonly busy: Uint8Array;
  private readonly left: Int32Array;
  private readonly ready: Int32Array;
  private readonly minutes: Int32Array;
  private readonly crew: Int32Array;
  private readonly uses: readonly (readonly { readonly equipment: number; readonly amount: number }[])[];

  /** For a problem without release dates, one task to an activity. */
  constructor(
    private readonly problem: Problem,
    private readonly decoder: ScheduleDecoder,
  ) {
    const { count } = decoder;
    this.start = new Int32Array(count);
    this.end = new Int32Array(count);
    this.left = new Int32Array(count);
    this.ready = new Int32Array(count);
    this.minutes = new Int32Array(count);
    this.crew = new Int32Array(count);
    this.free = Int32Array.from(problem.equipmentCount);
    this.busy = new Uint8Array(problem.crewCount);
    this.uses = problem.activities.map(({ tasks }) => problem.tasks[tasks[0] ?? -1]?.equipment ?? []);
  }

  /** Decodes by keys, the least first; the makespan. Backward times count from the end. */
  decode(keys: ArrayLike<number>, staffing: Int32Array, backward: boolean): number {
    const { decoder, left, ready, end } = this;
    const ahead = backward ? decoder.behind : decoder.before;
    const open: number[] = [];
    const running: number[] = [];
    this.begin(staffing);
    // Proof of the casts, here and below: rows and arrays cover all activities.
    for (let activity = 0; activity < decoder.count; activity++) {
      left[activity] = (ahead.from[activity + 1] as number) - (ahead.from[activity] as number);
      if (left[activity] === 0) insert(open, activity, keys);
    }
    let makespan = 0;
    for (let now = 0; ;) {
      let next = Infinity;
      for (let at = 0; at < open.length;) {
        const activity = open[at] as number;
        const due = ready[activity] as number;
        if (due > now) next = Math.min(next, due);
        if (due > now || !this.isFree(activity)) {
          at++;
          continue;
        }
        open.splice(at, 1);
        this.run(activity, now);
        makespan = Math.max(makespan, end[activity] as number);
        if (this.minutes[activity] !== 0) running.push(activity);
        else {
          this.release(activity, backward, open, keys);
          at = 0;
        }
      }
      for (const activity of running) next = Math.min(next, end[activity] as number);
      if (next === Infinity) return makespan;
      now = next;
      for (let at = running.length - 1; at >= 0; at--) {
        const activity = running[at] as number;
        if (end[activity] !== now) continue;
        running.splice(at, 1);
        this.occupy(activity, -1);
        this.release(activity, backward, open, keys);
      }
    }
  }

  private begin(staffing: Int32Array): void {
    const { staffings, count } = this.decoder;
    for (let activity = 0; activity < count; activity++) {
      const option = (staffings.from[activity] as number) + (staffing[activity] as number);
      this.crew[activity] = staffings.item[option] as number;
      this.minutes[activity] = staffings.value[option] as number;
    }
    this.free.set(this.problem.equipmentCount);
    this.busy.fill(0);
    this.ready.fill(0);
    this.tie = 0;
  }

  /** Whether crew and equipment are free; what takes no time needs neither. */
  private isFree(activity: number): boolean {
    if (this.minutes[activity] === 0) return true;
    const crew = this.crew[activity] as number;
    if (crew >= 0 && this.busy[crew]) return false;
    for (const use of this.uses[activity] ?? []) {
      if (use.amount > (this.free[use.equipment] as number)) return false;
    }
    return true;
  }

  private run(activity: number, now: number): void {
    const end = now + (this.minutes[activity] as number);
    this.start[activity] = now;
    this.end[activity] = end;
    this.tie += end;
    if (end > now) this.occupy(activity, 1);
  }

  private occupy(activity: number, sign: 1 | -1): void {
    const crew = this.crew[activity] as number;
    if (crew >= 0) this.busy[crew] = sign === 1 ? 1 : 0;
    for (const use of this.uses[activity] ?? []) {
      this.free[use.equipment] = (this.free[use.equipment] as number) - sign * use.amount;
    }
  }

  /** Opens what follows an activity that has ended, where it followed nothing else. */
  private release(activity: number, backward: boolean, open: number[], keys: ArrayLike<number>): void {
    const { before, behind } = this.decoder;
    const rows = backward ? before : behind;
    for (let edge = rows.from[activity] as number; edge < (rows.from[activity + 1] as number); edge++) {
      const next = rows.item[edge] as number;
      const due = (this.end[activity] as number) + (rows.value[edge] as number);
      this.ready[next] = Math.max(this.ready[next] as number, due);
      this.left[next] = (this.left[next] as number) - 1;
      if (this.left[next] === 0) insert(open, next, keys);
    }
  }
}

/** Keeps a list sorted by key, of equal keys by activity. */
function insert(open: number[], activity: number, keys: ArrayLike<number>): void {
  const key = keys[activity] as number;
  let low = 0;
  let high = open.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    const other = open[middle] as number;
    const otherKey = keys[other] as number;
    if (otherKey < key || (otherKey === key && other < activity)) low = middle + 1;
    else high = middle;
  }
  open.splice(low, 0, activity);
}
