/**
 * Tabu search on lines after Mastrolilli and Gambardella (2000): each move takes one task of a critical path to the best
 * place in the line of one of its crews, its own included, so that moves of a critical block are a special case. The
 * move with the lowest exact price is made, even where it makes things worse; a task may not go back to the option that
 * it left for a while, unless that beats the best so far. From there it departs by breaking ties on the longest path
 * through the moved task, which leads across plateaus on which several paths are critical, and prices only a sample of a
 * long path.
 */
import type { Random } from "../random.js";
import { InsertionPricer } from "./insertion-pricer.js";
import type { LineSchedule } from "./line-schedule.js";

const NO_PRICE = 2_000_000_000;
/** Tasks of a critical path that are priced for a move; of a longer path so many are drawn. */
const SAMPLE = 20;

export class LineTabu {
  /** Lowest makespan since `begin`, with the starts and options of its schedule, and an order that goes with them. */
  bestMakespan = 0;
  readonly bestOrder: Int32Array;
  readonly bestOption: Int32Array;
  readonly bestStart: Int32Array;
  /** Moves made since `bestMakespan` fell last. */
  stale = 0;
  private readonly pricer: InsertionPricer;
  /** By option: the move from which on its task may go back to it. */
  private readonly freeAt: Int32Array;
  private readonly path: Int32Array;
  /** By place in the path: no move of the task there brings about a shorter path through it. */
  private readonly least: Int32Array;
  /** Minutes of each task's shortest option. */
  private readonly shortest: Int32Array;
  private moves = 0;

  constructor(
    private readonly schedule: LineSchedule,
    private readonly random: Random,
  ) {
    const { count, options } = schedule.problem;
    this.pricer = new InsertionPricer(schedule, random);
    this.bestOrder = new Int32Array(count);
    this.bestOption = new Int32Array(count);
    this.bestStart = new Int32Array(count);
    this.freeAt = new Int32Array(options.item.length);
    this.path = new Int32Array(count);
    this.least = new Int32Array(count);
    this.shortest = Int32Array.from({ length: count }, (_, task) =>
      Math.min(...options.value.subarray(options.from[task], options.from[task + 1])),
    );
  }

  /** Starts from the schedule as it is, which must have been computed. */
  begin(): void {
    this.freeAt.fill(0);
    this.moves = 0;
    this.keep();
  }

  /** Makes one move and computes the schedule anew (one schedule). False where no task of a critical path can move. */
  step(): boolean {
    const { schedule, pricer, random, freeAt, path } = this;
    const { options } = schedule.problem;
    const now = ++this.moves;
    pricer.refresh();
    const length = this.samplePath(this.findPath());
    let bestPrice = NO_PRICE;
    let bestThrough = NO_PRICE;
    let ties = 0;
    let bestTask = -1;
    let bestOption = -1;
    let bestPrevious = -1;
    this.sortPath(length);
    for (let at = 0; at < length; at++) {
      const task = path[at] as number; // proof, here and below: path and rows hold tasks and options
      const least = this.least[at] as number;
      if (least > bestThrough && least >= bestPrice) break;
      if (least >= this.bestMakespan && this.isTabu(task, now)) continue;
      if (!pricer.lift(task, least > bestThrough ? bestPrice - 1 : bestPrice)) {
        pricer.putBack(task);
        continue;
      }
      const without = pricer.makespanWithout;
      for (let option = options.from[task] as number; option < (options.from[task + 1] as number); option++) {
        const limit = without === bestPrice ? bestThrough + 1 : bestPrice + 1;
        const isTabu = (freeAt[option] as number) > now;
        const through = pricer.insertion(task, option, isTabu ? Math.min(limit, this.bestMakespan) : limit);
        if (through < 0) continue;
        const price = Math.max(through, without);
        if (isTabu && price >= this.bestMakespan) continue;
        if (price > bestPrice || (price === bestPrice && through > bestThrough)) continue;
        if (price < bestPrice || through < bestThrough) ties = 0;
        else if (random.below(ties + 1) > 0) {
          ties++;
          continue;
        }
        ties++;
        bestPrice = price;
        bestThrough = through;
        bestTask = task;
        bestOption = option;
        bestPrevious = pricer.previous;
      }
      pricer.putBack(task);
    }
    if (bestTask < 0) return this.stepAside(length);
    this.move(bestTask, bestOption, bestPrevious, length);
    return true;
  }

  /** Draws tasks of a long path to its front; returns how many are to be priced. */
  private samplePath(length: number): number {
    const { path, random } = this;
    if (length <= SAMPLE) return length;
    for (let at = 0; at < SAMPLE; at++) {
      const other = at + random.below(length - at);
      const task = path[other] as number;
      path[other] = path[at] as number;
      path[at] = task;
    }
    return SAMPLE;
  }

  /** Sorts the path by the shortest path through each task that any move of it could bring about. */
  private sortPath(length: number): void {
    const { pricer, path, least, shortest } = this;
    for (let at = 0; at < length; at++) {
      const task = path[at] as number;
      const own = pricer.frame(task) + (shortest[task] as number);
      let to = at;
      for (; to > 0 && (least[to - 1] as number) > own; to--) {
        least[to] = least[to - 1] as number;
        path[to] = path[to - 1] as number;
      }
      least[to] = own;
      path[to] = task;
    }
  }

  private isTabu(task: number, now: number): boolean {
    const { freeAt, schedule } = this;
    const { from } = schedule.problem.options;
    for (let option = from[task] as number; option < (from[task + 1] as number); option++) {
      if ((freeAt[option] as number) <= now) return false;
    }
    return true;
  }

  /** Where every move is tabu: a drawn task of the path to the best place in the line of a drawn option. */
  private stepAside(length: number): boolean {
    const { schedule, pricer, random, path } = this;
    const { options } = schedule.problem;
    for (let attempt = 0; attempt < 2 * length; attempt++) {
      const task = path[random.below(length)] as number;
      const from = options.from[task] as number;
      const option = from + random.below((options.from[task + 1] as number) - from);
      pricer.lift(task, NO_PRICE);
      const through = pricer.insertion(task, option, NO_PRICE);
      pricer.putBack(task);
      if (through < 0) continue;
      this.move(task, option, pricer.previous, length);
      return true;
    }
    return false;
  }

  private move(task: number, option: number, previous: number, length: number): void {
    const { schedule, random, freeAt } = this;
    const { options } = schedule.problem;
    const choices = (options.from[task + 1] as number) - (options.from[task] as number);
    freeAt[schedule.option[task] as number] = this.moves + length + choices + random.below(4);
    schedule.remove(task);
    schedule.insert(task, option, previous);
    schedule.recompute();
    if (schedule.makespan < this.bestMakespan) this.keep();
    else this.stale++;
  }

  private keep(): void {
    const { makespan, order, option, end, minutes } = this.schedule;
    this.bestMakespan = makespan;
    this.bestOrder.set(order);
    this.bestOption.set(option);
    for (const task of order) this.bestStart[task] = (end[task] as number) - (minutes[task] as number);
    this.stale = 0;
  }

  /** Walks a critical path from its end, drawn where paths part; fills `path` and returns how many tasks it has. */
  private findPath(): number {
    const { schedule, random, path } = this;
    const { problem, end, minutes, previous, makespan } = schedule;
    const { count, before } = problem;
    let current = -1;
    let ties = 0;
    for (let task = 0; task < count; task++) {
      if (end[task] === makespan && random.below(++ties) === 0) current = task;
    }
    let length = 0;
    while (current >= 0) {
      path[length++] = current;
      const start = (end[current] as number) - (minutes[current] as number);
      let ahead = previous[current] as number;
      ties = 0;
      if (ahead >= 0 && end[ahead] === start) ties = 1;
      else ahead = -1;
      for (let edge = before.from[current] as number; edge < (before.from[current + 1] as number); edge++) {
        const task = before.item[edge] as number;
        const isBinding = (end[task] as number) + (before.value[edge] as number) === start;
        if (isBinding && (ties === 0 || random.below(ties + 1) === 0)) ahead = task;
        if (isBinding) ties++;
      }
      current = ahead;
    }
    return length;
  }
}
