/**
 * A schedule as lines: for each crew, the tasks that it works, one after the other. Starts are longest paths in the graph
 * of precedence and neighbours in lines (Roy and Sussmann's disjunctive graph), and so is what comes behind each task.
 * `recompute` is one schedule, in time linear in tasks and edges.
 */
import type { LineProblem } from "./line-problem.js";

export class LineSchedule {
  /** Of each task: its option (an index into the rows of options), the line it lies in (−1: none), its minutes. */
  readonly option: Int32Array;
  readonly line: Int32Array;
  readonly minutes: Int32Array;
  /** Neighbours in its line, −1 at the ends. */
  readonly previous: Int32Array;
  readonly next: Int32Array;
  /** First and last of each line, −1 where it is empty. */
  readonly first: Int32Array;
  readonly last: Int32Array;
  /** Longest path to the end of each task, and from its start to the end of all. */
  readonly end: Int32Array;
  readonly tail: Int32Array;
  /** All tasks, each behind all that come before it; and the place of each in that order. */
  readonly order: Int32Array;
  readonly place: Int32Array;
  makespan = 0;
  private readonly open: Int32Array;

  constructor(readonly problem: LineProblem) {
    const { count, crewCount } = problem;
    const ofTasks = (): Int32Array => new Int32Array(count);
    this.option = ofTasks();
    this.line = ofTasks();
    this.minutes = ofTasks();
    this.previous = ofTasks();
    this.next = ofTasks();
    this.first = new Int32Array(crewCount);
    this.last = new Int32Array(crewCount);
    this.end = ofTasks();
    this.tail = ofTasks();
    this.order = ofTasks();
    this.place = ofTasks();
    this.open = ofTasks();
  }

  /** Lines in which tasks stand as in `order` (which respects precedence); `staffing` counts each task's options from 0. */
  fill(order: Int32Array, staffing: Int32Array): void {
    const { options } = this.problem;
    this.first.fill(-1);
    this.last.fill(-1);
    for (const task of order) {
      // proof, here and below: rows cover all tasks, lines and neighbours hold only tasks and −1, which is tested for.
      const option = (options.from[task] as number) + (staffing[task] as number);
      this.insert(task, option, this.last[options.item[option] as number] ?? -1);
    }
  }

  /** Takes a task out of its line. */
  remove(task: number): void {
    const line = this.line[task] as number;
    if (line < 0) return;
    const previous = this.previous[task] as number;
    const next = this.next[task] as number;
    if (previous < 0) this.first[line] = next;
    else this.next[previous] = next;
    if (next < 0) this.last[line] = previous;
    else this.previous[next] = previous;
  }

  /** Puts a task that lies in no line into that of an option, right behind `previous` (−1: at its front). */
  insert(task: number, option: number, previous: number): void {
    const { options } = this.problem;
    const line = options.item[option] as number;
    this.option[task] = option;
    this.line[task] = line;
    this.minutes[task] = options.value[option] as number;
    this.previous[task] = -1;
    this.next[task] = -1;
    if (line < 0) return;
    const next = (previous < 0 ? this.first[line] : this.next[previous]) as number;
    this.previous[task] = previous;
    this.next[task] = next;
    if (previous < 0) this.first[line] = task;
    else this.next[previous] = task;
    if (next < 0) this.last[line] = task;
    else this.previous[next] = task;
  }

  /** Computes `order`, `end`, `tail` and the makespan anew. False where lines and precedence make a circle. */
  recompute(): boolean {
    const { problem, previous, next, minutes, end, order, place, open } = this;
    const { count, before, behind, release } = problem;
    let known = 0;
    for (let task = 0; task < count; task++) {
      const waiting =
        (before.from[task + 1] as number) -
        (before.from[task] as number) +
        ((previous[task] as number) < 0 ? 0 : 1);
      open[task] = waiting;
      if (waiting === 0) order[known++] = task;
    }
    let makespan = 0;
    for (let at = 0; at < known; at++) {
      const task = order[at] as number;
      const ahead = previous[task] as number;
      let start = release[task] as number;
      if (ahead >= 0 && (end[ahead] as number) > start) start = end[ahead] as number;
      for (let edge = before.from[task] as number; edge < (before.from[task + 1] as number); edge++) {
        const ready = (end[before.item[edge] as number] as number) + (before.value[edge] as number);
        if (ready > start) start = ready;
      }
      const until = start + (minutes[task] as number);
      end[task] = until;
      place[task] = at;
      if (until > makespan) makespan = until;
      const follower = next[task] as number;
      if (follower >= 0) {
        const left = (open[follower] as number) - 1;
        open[follower] = left;
        if (left === 0) order[known++] = follower;
      }
      for (let edge = behind.from[task] as number; edge < (behind.from[task + 1] as number); edge++) {
        const behindIt = behind.item[edge] as number;
        const left = (open[behindIt] as number) - 1;
        open[behindIt] = left;
        if (left === 0) order[known++] = behindIt;
      }
    }
    if (known < count) return false;
    this.recomputeTails();
    this.makespan = makespan;
    return true;
  }

  private recomputeTails(): void {
    const { problem, next, minutes, tail, order } = this;
    const { count, behind } = problem;
    for (let at = count - 1; at >= 0; at--) {
      const task = order[at] as number;
      const follower = next[task] as number;
      let longest = follower < 0 ? 0 : (tail[follower] as number);
      for (let edge = behind.from[task] as number; edge < (behind.from[task + 1] as number); edge++) {
        const rest = (tail[behind.item[edge] as number] as number) + (behind.value[edge] as number);
        if (rest > longest) longest = rest;
      }
      tail[task] = longest + (minutes[task] as number);
    }
  }
}
