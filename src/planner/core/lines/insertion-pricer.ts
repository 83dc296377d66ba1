/**
 * Prices moves of one task to another place before they are made (Mastrolilli and Gambardella 2000): `lift` takes the
 * task out of its line and gives it no length, which changes some ends before it and tails behind it; `insertion` finds
 * its best place in the line of an option. The price is exact: the makespan after the move is the greater of
 * `makespanWithout` and the longest path through the moved task.
 *
 * Which places are safe: a task that must come before the lifted one ends by `ready` and its tail is above `rest`; one
 * that must come after has its tail at or below `rest` and ends after `ready`. Ends ascend and tails descend along a
 * line, so that all places behind the former and before the latter are one stretch, and never make a circle.
 */
import type { Random } from "../random.js";
import type { LineSchedule } from "./line-schedule.js";

export class InsertionPricer {
  /** Earliest start of the lifted task by precedence and release, and the longest path behind it by precedence. */
  ready = 0;
  rest = 0;
  /** Longest path that is left when the lifted task has no length and lies in no line. */
  makespanWithout = 0;
  /** Of the place found last: the task that it lies behind, −1 for the front of the line. */
  previous = -1;
  /** Ends and tails without the lifted task. */
  readonly end: Int32Array;
  readonly tail: Int32Array;
  private readonly changedEnds: Int32Array;
  private readonly changedTails: Int32Array;
  private endCount = 0;
  private tailCount = 0;
  /** By place in the order: to be looked at again. */
  private readonly dirty: Uint8Array;
  private readonly lineless: Int32Array;

  constructor(
    private readonly schedule: LineSchedule,
    private readonly random: Random,
  ) {
    const { count, options } = schedule.problem;
    this.end = new Int32Array(count);
    this.tail = new Int32Array(count);
    this.changedEnds = new Int32Array(count);
    this.changedTails = new Int32Array(count);
    this.dirty = new Uint8Array(count);
    this.lineless = Int32Array.from(Array(count).keys()).filter((task) =>
      options.item.subarray(options.from[task], options.from[task + 1]).includes(-1),
    );
  }

  /** To be called after each recomputation of the schedule. */
  refresh(): void {
    this.end.set(this.schedule.end);
    this.tail.set(this.schedule.tail);
  }

  /** Computes `ready` and `rest` of a task: its place in its line has no part in them. Returns their sum. */
  frame(task: number): number {
    const { schedule, end, tail } = this;
    const { before, behind, release } = schedule.problem;
    let ready = release[task] as number; // proof, here and below: tasks and places within bounds
    for (let edge = before.from[task] as number; edge < (before.from[task + 1] as number); edge++) {
      const earliest = (end[before.item[edge] as number] as number) + (before.value[edge] as number);
      if (earliest > ready) ready = earliest;
    }
    let rest = 0;
    for (let edge = behind.from[task] as number; edge < (behind.from[task + 1] as number); edge++) {
      const longest = (tail[behind.item[edge] as number] as number) + (behind.value[edge] as number);
      if (longest > rest) rest = longest;
    }
    this.ready = ready;
    this.rest = rest;
    return ready + rest;
  }

  /**
   * Takes a task out; `putBack` must follow before the next one is lifted. False, and then nothing may be inserted, where
   * what is left is longer than `limit` without it.
   */
  lift(task: number, limit: number): boolean {
    const { schedule, end } = this;
    let makespan = this.frame(task);
    this.tailCount = 0;
    this.updateEnds(task);
    for (const last of schedule.last) {
      const final = last === task ? (schedule.previous[last] as number) : last;
      if (final >= 0 && (end[final] as number) > makespan) makespan = end[final] as number;
    }
    for (const free of this.lineless) if ((end[free] as number) > makespan) makespan = end[free] as number;
    this.makespanWithout = makespan;
    if (makespan > limit) return false;
    this.updateTails(task);
    return true;
  }

  /** Restores the ends and tails of the schedule. */
  putBack(task: number): void {
    const { schedule, end, tail, changedEnds, changedTails } = this;
    for (let at = 0; at < this.endCount; at++) {
      const changed = changedEnds[at] as number;
      end[changed] = schedule.end[changed] as number;
    }
    for (let at = 0; at < this.tailCount; at++) {
      const changed = changedTails[at] as number;
      tail[changed] = schedule.tail[changed] as number;
    }
    end[task] = schedule.end[task] as number;
    tail[task] = schedule.tail[task] as number;
  }

  /**
   * Finds the best safe place for the lifted task in an option's line, other than the one it came from; ties are drawn.
   * Returns the longest path through it, −1 where there is no such place or none below `limit`.
   */
  insertion(task: number, option: number, limit: number): number {
    const { schedule, end, tail, ready, rest } = this;
    const { options } = schedule.problem;
    const line = options.item[option] as number;
    const minutes = options.value[option] as number;
    const shortest = ready + minutes + rest;
    if (shortest >= limit) return -1;
    if (line < 0) {
      this.previous = -1;
      return option === schedule.option[task] ? -1 : shortest;
    }
    const skip = schedule.line[task] === line ? (schedule.previous[task] as number) : -2;
    let previous = -1;
    let next = this.behind(task, schedule.first[line] as number);
    while (next >= 0 && (end[next] as number) <= ready && (tail[next] as number) > rest) {
      previous = next;
      next = this.behind(task, schedule.next[next] as number);
    }
    let best = limit;
    let ties = 0;
    for (;;) {
      if (previous !== skip) {
        const head = previous < 0 ? ready : Math.max(ready, end[previous] as number);
        const through = head + minutes + (next < 0 ? rest : Math.max(rest, tail[next] as number));
        if (through < best) {
          best = through;
          ties = 1;
          this.previous = previous;
        } else if (through === best && ties > 0 && this.random.below(++ties) === 0) this.previous = previous;
      }
      if (next < 0 || ((end[next] as number) > ready && (tail[next] as number) <= rest)) break;
      previous = next;
      next = this.behind(task, schedule.next[next] as number);
    }
    return ties > 0 ? best : -1;
  }

  private behind(task: number, next: number): number {
    return next === task ? (this.schedule.next[next] as number) : next;
  }

  /** Ends without the task, by place in the order, as far as they change. */
  private updateEnds(task: number): void {
    const { schedule, end, dirty, changedEnds } = this;
    const { problem, order, place, minutes, previous, next } = schedule;
    const { before, behind, release } = problem;
    end[task] = this.ready;
    this.endCount = 0;
    let waiting = 0;
    for (let current = task, at = place[task] as number; ;) {
      const follower = next[current] as number;
      if (follower >= 0 && dirty[place[follower] as number] === 0) {
        dirty[place[follower] as number] = 1;
        waiting++;
      }
      for (let edge = behind.from[current] as number; edge < (behind.from[current + 1] as number); edge++) {
        const where = place[behind.item[edge] as number] as number;
        if (dirty[where] === 0) {
          dirty[where] = 1;
          waiting++;
        }
      }
      for (;;) {
        if (waiting === 0) return;
        do at++;
        while (dirty[at] === 0);
        dirty[at] = 0;
        waiting--;
        current = order[at] as number;
        let ahead = previous[current] as number;
        if (ahead === task) ahead = previous[task] as number;
        let start = release[current] as number;
        if (ahead >= 0 && (end[ahead] as number) > start) start = end[ahead] as number;
        for (let edge = before.from[current] as number; edge < (before.from[current + 1] as number); edge++) {
          const earliest = (end[before.item[edge] as number] as number) + (before.value[edge] as number);
          if (earliest > start) start = earliest;
        }
        const until = start + (minutes[current] as number);
        if (until !== end[current]) {
          end[current] = until;
          changedEnds[this.endCount++] = current;
          break;
        }
      }
    }
  }

  /** Tails without the task, likewise. */
  private updateTails(task: number): void {
    const { schedule, tail, dirty, changedTails } = this;
    const { problem, order, place, minutes, previous, next } = schedule;
    const { before, behind } = problem;
    tail[task] = this.rest;
    let waiting = 0;
    for (let current = task, at = place[task] as number; ;) {
      const ahead = previous[current] as number;
      if (ahead >= 0 && dirty[place[ahead] as number] === 0) {
        dirty[place[ahead] as number] = 1;
        waiting++;
      }
      for (let edge = before.from[current] as number; edge < (before.from[current + 1] as number); edge++) {
        const where = place[before.item[edge] as number] as number;
        if (dirty[where] === 0) {
          dirty[where] = 1;
          waiting++;
        }
      }
      for (;;) {
        if (waiting === 0) return;
        do at--;
        while (dirty[at] === 0);
        dirty[at] = 0;
        waiting--;
        current = order[at] as number;
        let follower = next[current] as number;
        if (follower === task) follower = next[task] as number;
        let longest = follower < 0 ? 0 : (tail[follower] as number);
        for (let edge = behind.from[current] as number; edge < (behind.from[current + 1] as number); edge++) {
          const longer = (tail[behind.item[edge] as number] as number) + (behind.value[edge] as number);
          if (longer > longest) longest = longer;
        }
        longest += minutes[current] as number;
        if (longest !== tail[current]) {
          tail[current] = longest;
          changedTails[this.tailCount++] = current;
          break;
        }
      }
    }
  }
}
