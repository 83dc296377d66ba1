/**
 * A genetic search in which every child is also half a justification: a child of a forward schedule is decoded backward,
 * its ends are the keys of the next forward one, and so on (the two populations of Debels and Vanhoucke 2005, forward
 * and backward, here one of both kinds). Unchanged, a schedule would get no worse that way (Li and Willis 1992); it is
 * changed by crossover or by a small change, and takes its father's place by annealing. Of a population that begins
 * large the worst leave one by one (as in the differential evolution of Tanabe and Fukunaga 2014). Written against the decoder alone; where that cannot mirror, all is forward.
 */
import { Random } from "../random.js";
import type { ScheduleDecoder } from "../schedule-decoder.js";
import { isBetter, type Genome, type Search, type SearchOptions, type Solution } from "../search.js";
import { Cooling } from "./cooling.js";
import { findCriticalLinks, turnLink } from "./critical-link.js";
import { cross, findBusyWindow, type Child } from "./crossover.js";
import { toKeys, type Member } from "./member.js";
import { pullToNearFit } from "./near-fit.js";
import type { ParallelScheme } from "./parallel-scheme.js";
import { jitter, pull, shuffleWindow } from "./shake.js";
import { TopologicalOrder } from "./topological-order.js";

/** A population begins with so many schedules to spend on each pair of activities for each member. */
const SCHEDULES_PER_PAIR = 0.017;
const FEWEST_MEMBERS = 4;
const MOST_MEMBERS = 200;
/** What is left of it at the end. */
const LAST_MEMBERS = 2;
/** The first members are the best of at least so many. */
const FIRST_DRAWS = 40;
/** How far a priority of the start is blurred, as a share of it. */
const BLUR = 0.5;
/** Share of children by crossover. */
const CROSSED = 0.5;
/** Of the others, so many are pulled to a near fit. */
const FITTED = 0.7;
/** Of what then remains: turned at a critical link, pulled; what remains is shuffled or jittered, half of it each. */
const TURNED = 0.4;
const PULLED = 0.3;
/** Share of children decoded by the parallel scheme, where there is one. */
const PARALLEL = 0.2;
/** Where it is not known how many schedules there will be: length of the first cooling, and each later one twice as long. */
const FIRST_ROUND_PER_ACTIVITY = 25;
const SHORTEST_ROUND = 2000;

export class PopulationSearch implements Search {
  schedules = 0;
  private readonly random: Random;
  private readonly orders: TopologicalOrder;
  private readonly cooling: Cooling;
  private readonly work: Generator<undefined, void>;
  private members: Member[] = [];
  private found: Member;

  constructor(
    private readonly decoder: ScheduleDecoder,
    private readonly options: SearchOptions,
    private readonly parallel: ParallelScheme | null,
  ) {
    this.random = new Random(options.seed);
    this.orders = new TopologicalOrder(decoder);
    this.cooling = new Cooling(this.random);
    this.found = this.decode(options.from ?? this.firstGenome(), false);
    this.work = this.run();
  }

  get best(): Solution {
    return this.found;
  }

  step(): boolean {
    const { bound, schedules } = this.options;
    if (this.decoder.count === 0 || (bound !== undefined && this.found.cost <= bound)) return false;
    if (schedules !== undefined && this.schedules >= schedules) return false;
    return this.work.next().done !== true;
  }

  private *run(): Generator<undefined, void> {
    const { decoder, options } = this;
    let length = options.schedules ?? Math.max(SHORTEST_ROUND, FIRST_ROUND_PER_ACTIVITY * decoder.count);
    for (let from = 0; ; length *= 2) {
      const byBudget = Math.round(length / (SCHEDULES_PER_PAIR * decoder.count ** 2));
      yield* this.populate(Math.min(MOST_MEMBERS, Math.max(FEWEST_MEMBERS, byBudget)));
      const size = this.members.length;
      while (this.schedules < from + length) {
        const spent = (this.schedules - from) / length;
        this.thin(Math.max(LAST_MEMBERS, Math.round(size * (1 - spent))));
        yield* this.breed(spent);
      }
      from = this.schedules;
    }
  }

  /** Fills the population up to a size with new schedules by blurred priorities, the best of many. */
  private *populate(size: number): Generator<undefined, void> {
    const { decoder, random, parallel } = this;
    const pool = this.members.length === 0 ? [this.found] : this.members;
    for (let draws = Math.max(FIRST_DRAWS, size) - 1; draws > 0; draws--) {
      const keys = Float64Array.from(decoder.tails, (tail) => -tail * (1 + BLUR * (2 * random.next() - 1)));
      const staffing = Int32Array.from(decoder.tails, (_, activity) => this.drawStaffing(activity));
      const child = { keys, staffing };
      pool.push(
        parallel && draws % 2 === 0 ? this.decodeParallel(child, false) : this.decodeKeys(child, false),
      );
      yield;
    }
    this.members = pool.sort((a, b) => a.cost - b.cost || a.tie - b.tie).slice(0, size);
  }

  /** Leaves no more than so many, the worst first. */
  private thin(size: number): void {
    const { members } = this;
    while (members.length > size) {
      const worst = members.reduce((one, two) => (isBetter(one, two) ? two : one));
      members.splice(members.indexOf(worst), 1);
    }
  }

  /** One child, which may take its father's place. `spent` is the share of the time that is over. */
  private *breed(spent: number): Generator<undefined, void> {
    const { members, parallel, random } = this;
    const at = this.select(-1);
    const father = members[at] as Member; // proof, here and below: select stays below the length
    const backward = this.decoder.canMirror && !father.backward;
    const child = this.vary(father, members[this.select(at)] as Member, backward);
    const isParallel = parallel !== null && random.next() < PARALLEL;
    const born = isParallel ? this.decodeParallel(child, backward) : this.decodeKeys(child, backward);
    yield;
    if (backward && born.cost < this.found.cost) {
      const { staffing } = child;
      const forward = this.decodeKeys({ keys: toKeys(born, false), staffing }, false);
      yield;
      members[at] = forward;
    } else if (!members.some((member) => isSame(member, born))) {
      if (this.cooling.accepts(born.cost - father.cost, spent)) members[at] = born;
    }
  }

  private vary(father: Member, mother: Member, backward: boolean): Child {
    const { decoder, random } = this;
    const child = { keys: toKeys(father, backward), staffing: father.genome.staffing.slice() };
    if (random.next() < CROSSED) {
      const hers = { keys: toKeys(mother, backward), staffing: mother.genome.staffing };
      return cross(child, hers, findBusyWindow(decoder, child, father.span, random));
    }
    if (random.next() < FITTED) {
      // What had to wait in the father's schedule; read from its other end, what others had to wait for.
      const waits = findCriticalLinks(decoder, father, random).map((link) =>
        backward === father.backward ? link[1] : link[0],
      );
      if (pullToNearFit(decoder, child, waits, backward, random)) return child;
    }
    const draw = random.next();
    if (draw < TURNED && turnLink(decoder, child, father, backward, random)) return child;
    if (draw < TURNED + PULLED) pull(decoder, child, backward, random);
    else if (random.next() < 0.5) shuffleWindow(decoder, child, father.span, random);
    else jitter(decoder, child, father.span, random);
    return child;
  }

  private firstGenome(): Genome {
    const { tails, count } = this.decoder;
    const keys = tails.map((tail) => -tail);
    return { order: this.orders.from(keys, false), staffing: new Int32Array(count) };
  }

  private drawStaffing(activity: number): number {
    const { from } = this.decoder.staffings;
    return this.random.below((from[activity + 1] ?? 0) - (from[activity] ?? 0));
  }

  private decodeKeys({ keys, staffing }: Child, backward: boolean): Member {
    return this.decode({ order: this.orders.from(keys, backward), staffing }, backward);
  }

  private decode(genome: Genome, backward: boolean): Member {
    const cost = this.decoder.decode(genome.order, genome.staffing, backward);
    return this.keep(this.decoder, genome, cost, backward);
  }

  private decodeParallel({ keys, staffing }: Child, backward: boolean): Member {
    const { parallel } = this;
    if (parallel === null) return this.decodeKeys({ keys, staffing }, backward);
    const cost = parallel.decode(keys, staffing, backward);
    return this.keep(
      parallel,
      { order: this.orders.from(parallel.start, backward), staffing },
      cost,
      backward,
    );
  }

  private keep(
    by: ScheduleDecoder | ParallelScheme,
    genome: Genome,
    cost: number,
    backward: boolean,
  ): Member {
    this.schedules++;
    const ends = by.end.slice();
    const span = ends.reduce((latest, end) => Math.max(latest, end), 0);
    const member = { genome, cost, tie: by.tie, starts: by.start.slice(), ends, span, backward };
    if (!backward && (this.schedules === 1 || isBetter(member, this.found))) this.found = member;
    return member;
  }

  /** The better of two. */
  private select(not: number): number {
    const { members, random } = this;
    let choice = -1;
    for (let draw = 0; draw < 2; draw++) {
      const at = random.below(members.length);
      if (at === not) continue;
      // Proof: both are below the length.
      if (choice < 0 || isBetter(members[at] as Member, members[choice] as Member)) choice = at;
    }
    return choice >= 0 ? choice : (not + 1) % members.length;
  }
}

function isSame(one: Member, two: Member): boolean {
  return (
    one.backward === two.backward &&
    one.cost === two.cost &&
    one.tie === two.tie &&
    one.starts.every((start, activity) => start === two.starts[activity]) &&
    one.genome.staffing.every((choice, activity) => choice === two.genome.staffing[activity])
  );
}
