/**
 * A genetic search over orders and staffings in which each child is improved by double justification: decoded forward,
 * then backward by its ends, then forward by its starts (Li and Willis 1992; Valls, Ballestín and Quintanilla 2005 and
 * 2008). Written against the decoder alone; where the decoder cannot mirror, children stay as they are.
 */
import { Random } from "../random.js";
import type { ScheduleDecoder } from "../schedule-decoder.js";
import type { Genome, Search, SearchOptions, Solution } from "../search.js";
import { cross, findBusyWindow } from "./crossover.js";
import { TopologicalOrder } from "./topological-order.js";

const POPULATION = 40;
/** How far a priority of the start is blurred, as a share of it. */
const BLUR = 0.5;
const MUTATION_RATE = 0.05;
const MUTATION_REACH = 0.1;

export class PopulationSearch implements Search {
  schedules = 0;
  private readonly random: Random;
  private readonly orders: TopologicalOrder;
  private readonly members: Solution[] = [];
  private readonly work: Generator<undefined, void>;
  private found: Solution;

  constructor(
    private readonly decoder: ScheduleDecoder,
    private readonly options: SearchOptions,
  ) {
    this.random = new Random(options.seed);
    this.orders = new TopologicalOrder(decoder);
    this.found = this.decode(options.from ?? this.firstGenome());
    this.work = this.run();
  }

  get best(): Solution {
    return this.found;
  }

  step(): boolean {
    const { bound, schedules } = this.options;
    if (bound !== undefined && this.found.cost <= bound) return false;
    if (schedules !== undefined && this.schedules >= schedules) return false;
    return this.work.next().done !== true;
  }

  private *run(): Generator<undefined, void> {
    const { decoder, members, random } = this;
    members.push(yield* this.justify(this.found));
    while (members.length < POPULATION) {
      const keys = Float64Array.from(decoder.tails, (tail) => -tail * (1 + BLUR * (2 * random.next() - 1)));
      const staffing = Int32Array.from(decoder.tails, (_, activity) => this.drawStaffing(activity));
      const start = this.decode({ order: this.orders.from(keys, false), staffing });
      yield;
      members.push(yield* this.justify(start));
    }
    for (;;) {
      const father = this.select();
      const mother = this.select(father);
      const { keys, staffing } = cross(father, mother, findBusyWindow(father, decoder.load, random));
      const reach = 2 * MUTATION_REACH * Math.max(...father.ends);
      for (const activity of keys.keys()) {
        if (random.next() >= MUTATION_RATE) continue;
        keys[activity] = (keys[activity] ?? 0) + (random.next() - 0.5) * reach;
        staffing[activity] = this.drawStaffing(activity);
      }
      const child = this.decode({ order: this.orders.from(keys, false), staffing });
      yield;
      this.replace(yield* this.justify(child));
    }
  }

  private firstGenome(): Genome {
    const { tails, count } = this.decoder;
    return {
      order: this.orders.from(
        tails.map((tail) => -tail),
        false,
      ),
      staffing: new Int32Array(count),
    };
  }

  private drawStaffing(activity: number): number {
    const { from } = this.decoder.staffings;
    return this.random.below((from[activity + 1] ?? 0) - (from[activity] ?? 0));
  }

  private decode(genome: Genome): Solution {
    const { decoder } = this;
    const cost = decoder.decode(genome.order, genome.staffing, false);
    this.schedules++;
    const solution = {
      genome,
      cost,
      tie: decoder.tie,
      starts: decoder.start.slice(),
      ends: decoder.end.slice(),
    };
    if (this.schedules === 1 || isBetter(solution, this.found)) this.found = solution;
    return solution;
  }

  /** Forward again by the starts of the backward schedule that the ends of the forward one give. */
  private *justify(solution: Solution): Generator<undefined, Solution> {
    const { decoder, orders } = this;
    if (!decoder.canMirror) return solution;
    const { staffing } = solution.genome;
    decoder.decode(
      orders.from(
        solution.ends.map((end) => -end),
        true,
      ),
      staffing,
      true,
    );
    this.schedules++;
    const keys = decoder.end.map((end) => -end);
    yield;
    const again = this.decode({ order: orders.from(keys, false), staffing });
    yield;
    return again;
  }

  private select(not?: Solution): Solution {
    const { members, random } = this;
    let choice: Solution | undefined;
    for (let draw = 0; draw < 2; draw++) {
      const other = members[random.below(members.length)] as Solution; // proof: below the length
      if (other !== not && (choice === undefined || isBetter(other, choice))) choice = other;
    }
    return choice ?? (members.find((member) => member !== not) as Solution); // proof: there are two or more
  }

  private replace(child: Solution): void {
    const { members } = this;
    let worst = 0;
    for (const [index, member] of members.entries()) {
      if (member.cost === child.cost && isSame(member, child)) return;
      if (isBetter(members[worst] as Solution, member)) worst = index; // proof: below the length
    }
    if (!isBetter(members[worst] as Solution, child)) members[worst] = child;
  }
}

function isBetter(one: Solution, two: Solution): boolean {
  return one.cost < two.cost || (one.cost === two.cost && one.tie < two.tie);
}

function isSame(one: Solution, two: Solution): boolean {
  return (
    one.starts.every((start, activity) => start === two.starts[activity]) &&
    one.genome.staffing.every((choice, activity) => choice === two.genome.staffing[activity])
  );
}
