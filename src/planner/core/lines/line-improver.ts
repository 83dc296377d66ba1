/**
 * Search for problems whose crews are lines: tabu search from several schedules, and from others half-way between two of
 * the best (path relinking; Peng, Lü and Cheng 2015 for the job shop, González, Vela and Varela 2015 for the flexible
 * one). Genomes in and out: the serial decoder makes of each genome a schedule that is as good or better, because when
 * it comes to a task, the place that the task has in its line is still free.
 */
import type { OpenDecoder } from "../open-decoder.js";
import type { Random } from "../random.js";
import type { Genome } from "../search.js";
import { findBound } from "./line-bound.js";
import { toLineProblem, type LineProblem } from "./line-problem.js";
import { buildStart, relink } from "./line-relink.js";
import { LineSchedule } from "./line-schedule.js";
import { LineTabu } from "./line-tabu.js";

export interface LineSolution extends Genome {
  /** The makespan. */
  readonly cost: number;
}

/** Schedules that are linked with each other. */
const ELITE = 12;
/** Moves without a gain after which a tabu search is given up: at first, and at most (it doubles with each new elite). */
const PATIENCE = 300;
const LONGEST_PATIENCE = 4800;
/** Links in a row that bring nothing, after which all but the best is thrown away. */
const WEARY = 36;

export class LineImprover {
  /** Schedules computed so far: one for each move and each start built, two for each genome read. Prices are none. */
  schedules = 0;
  private readonly problem: LineProblem;
  private readonly current: LineSchedule;
  private readonly tabu: LineTabu;
  private readonly elite: LineSolution[] = [];
  private found: LineSolution | null = null;
  /** No schedule is shorter; −1 until the first start. */
  private bound = -1;
  private weary = 0;
  private patience = PATIENCE;

  /** For a problem that `appliesToLines`. */
  constructor(
    private readonly decoder: OpenDecoder,
    private readonly random: Random,
  ) {
    this.problem = toLineProblem(decoder.problem);
    this.current = new LineSchedule(this.problem);
    this.tabu = new LineTabu(this.current, random);
  }

  /** Begins at a genome. */
  start(order: Int32Array, staffing: Int32Array): void {
    if (this.bound < 0) this.bound = findBound(this.problem, order);
    this.elite.length = 0;
    this.weary = 0;
    this.patience = PATIENCE;
    this.read({ order, staffing });
    this.found = this.snapshot(sortByStart(this.tabu.bestOrder, this.tabu.bestStart));
  }

  /** One move of a task, or a new start. False when the best is proved to be the optimum. */
  step(): boolean {
    if (this.best().cost <= this.bound) return false;
    if (this.tabu.stale >= this.patience || !this.tabu.step()) this.restart();
    else this.schedules++;
    if (this.tabu.bestMakespan < this.best().cost)
      this.found = this.snapshot(sortByStart(this.tabu.bestOrder, this.tabu.bestStart));
    return this.best().cost > this.bound;
  }

  /** The best so far: never worse than what the decoder made of the genome begun at. */
  best(): LineSolution {
    if (this.found === null) throw new Error("The search on lines has not been started.");
    return this.found;
  }

  private restart(): void {
    // In what was measured, orders by depth in the graph link a little better than orders by start.
    this.retire(this.snapshot(this.tabu.bestOrder.slice()));
    const { elite, random } = this;
    if (elite.length < ELITE) {
      this.schedules++;
      this.read(buildStart(this.problem, this.decoder.tails, random, random.next()));
      return;
    }
    const one = random.below(ELITE);
    const two = (one + 1 + random.below(ELITE - 1)) % ELITE;
    const share = 0.3 + 0.4 * random.next();
    this.read(relink(elite[one] as LineSolution, elite[two] as LineSolution, share, random)); // proof: below ELITE
  }

  /** Takes up a schedule among the elite in place of the worst, unless it is worse or there already. */
  private retire(solution: LineSolution): void {
    const { elite } = this;
    const isKnown = elite.some((other) => other.cost === solution.cost && isSame(other, solution));
    if (elite.length < ELITE) {
      if (!isKnown) elite.push(solution);
      return;
    }
    const worst = elite.reduce((at, other, index) => (other.cost > (elite[at]?.cost ?? 0) ? index : at), 0);
    const gain = (elite[worst]?.cost ?? 0) - solution.cost;
    if (!isKnown && gain >= 0) elite[worst] = solution;
    if (!isKnown && gain > 0) this.weary = 0;
    else if (++this.weary >= WEARY) {
      elite.length = 0;
      elite.push(this.best());
      this.weary = 0;
      this.patience = Math.min(2 * this.patience, LONGEST_PATIENCE);
    }
  }

  /** Lines as the serial decoder fills them: two schedules, the one decoded and its lines. */
  private read({ order, staffing }: Genome): void {
    this.decoder.decode(order, staffing, false);
    this.current.fill(sortByStart(order, this.decoder.start), staffing);
    this.current.recompute();
    this.schedules += 2;
    this.tabu.begin();
  }

  /** The best of the tabu search in an order that goes with its lines. */
  private snapshot(order: Int32Array): LineSolution {
    const { tabu, problem } = this;
    return {
      cost: tabu.bestMakespan,
      order,
      staffing: tabu.bestOption.map((option, task) => option - (problem.options.from[task] as number)),
    };
  }
}

/** An order by start; of equal starts, as in an order that respects precedence, so that this one does too. */
function sortByStart(order: Int32Array, start: Int32Array): Int32Array {
  const place = new Int32Array(order.length);
  order.forEach((task, at) => (place[task] = at));
  return Int32Array.from(order).sort(
    (a, b) => (start[a] as number) - (start[b] as number) || (place[a] as number) - (place[b] as number),
  );
}

function isSame(one: Genome, two: Genome): boolean {
  return (
    one.staffing.every((option, task) => option === two.staffing[task]) &&
    one.order.every((task, at) => task === two.order[at])
  );
}

/** The best that `limit` schedules find from a genome on; never worse than what the decoder makes of that genome. */
export function improveLines(
  decoder: OpenDecoder,
  order: Int32Array,
  staffing: Int32Array,
  random: Random,
  limit: number,
): LineSolution & { readonly schedules: number } {
  const improver = new LineImprover(decoder, random);
  improver.start(order, staffing);
  while (improver.schedules < limit && improver.step());
  return { ...improver.best(), schedules: improver.schedules };
}
