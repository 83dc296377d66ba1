/**
 * The search where crews are lines: the improver of lines from the first schedule on. It prices changes of who works what
 * and in which order without decoding them, and so leaves nothing for crossover to add.
 */
import type { LineImprover } from "./lines/line-improver.js";
import type { ScheduleDecoder } from "./schedule-decoder.js";
import type { Genome, Search, SearchOptions, Solution } from "./search.js";

/** What a step of the improver may compute at the most, and the decoding of what it found. */
const SCHEDULES_PER_STEP = 4;

export class LineSearch implements Search {
  private decoded = 0;
  private hasStarted = false;
  private found: Solution;

  constructor(
    private readonly decoder: ScheduleDecoder,
    private readonly improver: LineImprover,
    private readonly options: SearchOptions & { readonly from: Genome },
  ) {
    this.found = this.decode(options.from);
  }

  get schedules(): number {
    return this.decoded + this.improver.schedules;
  }

  get best(): Solution {
    return this.found;
  }

  step(): boolean {
    const { bound, schedules } = this.options;
    if (bound !== undefined && this.found.cost <= bound) return false;
    if (schedules !== undefined && this.schedules + SCHEDULES_PER_STEP > schedules) return false;
    const goesOn = this.improve();
    const { cost, order, staffing } = this.improver.best();
    if (cost < this.found.cost) {
      const better = this.decode({ order, staffing });
      if (better.cost < this.found.cost) this.found = better;
    }
    return goesOn;
  }

  private improve(): boolean {
    if (this.hasStarted) return this.improver.step();
    const { order, staffing } = this.options.from;
    this.improver.start(order, staffing);
    this.hasStarted = true;
    return true;
  }

  private decode(genome: Genome): Solution {
    const { decoder } = this;
    const cost = decoder.decode(genome.order, genome.staffing, false);
    this.decoded++;
    return { genome, cost, tie: decoder.tie, starts: decoder.start.slice(), ends: decoder.end.slice() };
  }
}
