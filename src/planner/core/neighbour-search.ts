/**
 * Local search from one schedule to the next by small changes of its order and its staffing, with late acceptance
 * (Burke and Bykov 2017): a change is kept when it is no worse than what stood some changes ago, or than what stands
 * now. For decoders that cannot mirror, where justification has nothing to say. When nothing better has been found for
 * long, it starts again from the best with some activities shaken.
 */
import { Random } from "./random.js";
import { ruin } from "./recreate.js";
import type { ScheduleDecoder } from "./schedule-decoder.js";
import { isBetter, type Genome, type Search, type SearchOptions, type Solution } from "./search.js";

/**
 * How many changes back late acceptance looks: long where schedules are quick to decode and there will be many, short
 * where each takes its time. Measured on small companies: 150 to 1,000 do alike, less does worse.
 */
const LONGEST_MEMORY = 300;
const SHORTEST_MEMORY = 5;
const MEMORY_TIMES_ACTIVITIES = 20_000;
/** Where the number of schedules is known, it looks back over this share of them at most. */
const MEMORY_SHARE = 1 / 40;
/** Schedules that are remembered, so that none is decoded twice: so many numbers in all. */
const REMEMBERED_NUMBERS = 3_000_000;
/** After so many changes on end that lead to remembered schedules, the search shakes; after so many shakes, it is done. */
const STALE = 60;
const STALE_SHAKES = 60;
/** Without a better best for so many times its memory, the search starts again from it. */
const PATIENCE = 10;
/** Share of changes that move a whole job. */
const HURRIED = 0.15;
/** With more movable activities than this, so large a share of changes gives up days of crews. */
const LARGE = 400;
const RECREATED = 0.85;
/** Share of activities that a new start shakes. */
const SHAKEN = 0.15;

export class NeighbourSearch implements Search {
  schedules = 0;
  private readonly random: Random;
  private readonly memory: Solution[];
  private current: Solution;
  private found: Solution;
  private readonly remembered = new Map<string, Solution>();
  private changes = 0;
  private stale = 0;
  private lastBetter = 0;
  /** Activities that leave the search something to choose: their place, their staffing, or both. */
  private readonly movable: readonly number[];

  constructor(
    private readonly decoder: ScheduleDecoder,
    private readonly options: SearchOptions & { readonly from: Genome },
  ) {
    this.random = new Random(options.seed);
    this.movable = Array.from({ length: decoder.count }, (_, activity) => activity).filter(
      (activity) => !options.fixed?.has(activity),
    );
    this.current = this.decode(options.from);
    this.found = this.current;
    const byBudget = options.schedules === undefined ? LONGEST_MEMORY : options.schedules * MEMORY_SHARE;
    const length = Math.round(Math.min(byBudget, MEMORY_TIMES_ACTIVITIES / Math.max(1, this.movable.length)));
    this.memory = Array.from(
      { length: Math.min(LONGEST_MEMORY, Math.max(SHORTEST_MEMORY, length)) },
      () => this.current,
    );
  }

  get best(): Solution {
    return this.found;
  }

  step(): boolean {
    const { schedules } = this.options;
    if ((schedules !== undefined && this.schedules >= schedules) || this.movable.length === 0) return false;
    if (this.stale >= STALE * STALE_SHAKES) return false;
    const stuck = this.changes - this.lastBetter > PATIENCE * this.memory.length;
    if (stuck || (this.stale > 0 && this.stale % STALE === 0)) {
      this.restart(this.found);
      return true;
    }
    const next = this.recreate() ?? this.decode(this.change(this.current));
    this.changes += 1;
    const slot = this.changes % this.memory.length;
    const before = this.memory[slot] as Solution; // proof: the memory is full from the start
    if (!isBetter(before, next) || !isBetter(this.current, next)) this.current = next;
    if (isBetter(this.current, before)) this.memory[slot] = this.current;
    return true;
  }

  /** In large problems most changes ruin and recreate; null for one of the small changes. */
  private recreate(): Solution | null {
    const { decoder, random, movable, current } = this;
    if (!decoder.decodeFreely || movable.length <= LARGE || random.next() >= RECREATED) return null;
    const crewOf = (activity: number): number => this.crewOf(activity, current.genome.staffing);
    const { genome, dayValue } = ruin(decoder, current, movable, crewOf, random);
    return this.note(genome, decoder.decodeFreely(genome.order, genome.staffing, dayValue));
  }

  private restart(from: Solution): void {
    let genome = from.genome;
    const shakes = Math.max(2, Math.round(this.movable.length * SHAKEN));
    for (let shake = 0; shake < shakes; shake++) genome = this.change({ ...from, genome });
    this.current = this.decode(genome);
    this.memory.fill(this.current);
    this.lastBetter = this.changes;
  }

  /** One to three small changes, or one to a whole job. */
  private change({ genome, starts, ends }: Solution): Genome {
    const { random } = this;
    if (this.decoder.groupCount > 1 && random.next() < HURRIED) return this.hurry(genome, starts, ends);
    const order = genome.order.slice();
    const staffing = genome.staffing.slice();
    const times = 1 + (random.next() < 0.3 ? 1 : 0) + (random.next() < 0.1 ? 1 : 0);
    for (let time = 0; time < times; time++) {
      const activity = this.movable[random.below(this.movable.length)] ?? 0;
      const kind = random.next();
      if (kind < 0.45 && this.reassign(activity, staffing)) continue;
      if (kind < 0.6 && this.exchange(activity, staffing)) continue;
      this.shift(activity, order);
    }
    return { order, staffing };
  }

  /** Moves all activities of one group forward (or back) in the order, by the same time. */
  private hurry(genome: Genome, starts: Int32Array, ends: Int32Array): Genome {
    const { random, decoder } = this;
    const group = random.below(decoder.groupCount);
    const span = Math.max(...ends);
    const by = Math.round(span * random.next() ** 2 * (random.next() < 0.75 ? -0.5 : 0.5));
    const keys = starts.map((start, activity) => (decoder.group[activity] === group ? start + by : start));
    const place = new Int32Array(genome.order.length);
    genome.order.forEach((activity, at) => (place[activity] = at));
    const order = genome.order.toSorted(
      (a, b) => (keys[a] ?? 0) - (keys[b] ?? 0) || (place[a] ?? 0) - (place[b] ?? 0),
    );
    return { order, staffing: genome.staffing };
  }

  /** Gives an activity another of its staffings. */
  private reassign(activity: number, staffing: Int32Array): boolean {
    const { from } = this.decoder.staffings;
    const choices = (from[activity + 1] ?? 0) - (from[activity] ?? 0);
    if (choices < 2) return false;
    const other = this.random.below(choices - 1);
    staffing[activity] = other >= (staffing[activity] ?? 0) ? other + 1 : other;
    return true;
  }

  /** Lets two activities exchange their crews, where each may have the other's. */
  private exchange(activity: number, staffing: Int32Array): boolean {
    const other = this.movable[this.random.below(this.movable.length)] ?? activity;
    const mine = this.crewOf(activity, staffing);
    const theirs = this.crewOf(other, staffing);
    if (mine === theirs) return false;
    const forMe = this.findStaffing(activity, theirs);
    const forThem = this.findStaffing(other, mine);
    if (forMe < 0 || forThem < 0) return false;
    staffing[activity] = forMe;
    staffing[other] = forThem;
    return true;
  }

  private crewOf(activity: number, staffing: Int32Array): number {
    const { from, item } = this.decoder.staffings;
    return item[(from[activity] ?? 0) + (staffing[activity] ?? 0)] ?? -1;
  }

  private findStaffing(activity: number, crew: number): number {
    const { from, item } = this.decoder.staffings;
    for (let at = from[activity] ?? 0; at < (from[activity + 1] ?? 0); at++) {
      if (item[at] === crew && crew >= 0) return at - (from[activity] ?? 0);
    }
    return -1;
  }

  /** Moves an activity to another place in the order, between what it follows and what follows it. */
  private shift(activity: number, order: Int32Array): void {
    const { random, decoder } = this;
    const at = order.indexOf(activity);
    let first = 0;
    let last = order.length - 1;
    for (let place = at - 1; place >= 0; place--) {
      if (hasEdge(decoder, order[place] ?? -1, activity)) {
        first = place + 1;
        break;
      }
    }
    for (let place = at + 1; place < order.length; place++) {
      if (hasEdge(decoder, activity, order[place] ?? -1)) {
        last = place - 1;
        break;
      }
    }
    // Near places are tried more often than far ones.
    const reach = random.next() ** 2;
    const earlier = random.next() < 0.5;
    const to = earlier ? at - Math.round(reach * (at - first)) : at + Math.round(reach * (last - at));
    if (to < at) order.copyWithin(to + 1, to, at);
    else order.copyWithin(at, at + 1, to + 1);
    order[to] = activity;
  }

  /** The schedule of a genome; one that is remembered is not decoded again. */
  private decode(genome: Genome): Solution {
    const { decoder, remembered } = this;
    const key = this.linesOf(genome);
    const known = remembered.get(key);
    if (known) {
      this.stale += 1;
      return known;
    }
    const solution = this.note(genome, decoder.decode(genome.order, genome.staffing, false));
    if (remembered.size * decoder.count * 4 > REMEMBERED_NUMBERS) remembered.clear();
    remembered.set(key, solution);
    return solution;
  }

  /** What the decoder has just made of a genome. */
  private note(genome: Genome, cost: number): Solution {
    const { tie, start, end } = this.decoder;
    const solution = { genome, cost, tie, starts: start.slice(), ends: end.slice() };
    this.schedules += 1;
    this.stale = 0;
    if (this.schedules === 1 || isBetter(solution, this.found)) {
      this.found = solution;
      this.lastBetter = this.changes;
    }
    return solution;
  }

  /**
   * What each crew does in which order: two genomes with the same lines mostly make the same schedule (equipment and
   * gaps may look at the order across crews), and looking at one of them is enough.
   */
  private linesOf({ order, staffing }: Genome): string {
    const lines: number[][] = [];
    for (const activity of order) {
      const line = (lines[this.crewOf(activity, staffing) + 1] ??= []);
      line.push(activity, staffing[activity] ?? 0);
    }
    return lines.join("|");
  }
}

function hasEdge({ behind }: ScheduleDecoder, before: number, after: number): boolean {
  for (let edge = behind.from[before] ?? 0; edge < (behind.from[before + 1] ?? 0); edge++) {
    if (behind.item[edge] === after) return true;
  }
  return false;
}
