/**
 * Another order, other crews: from a schedule that stands, changes where the slip hurts (houses that are late, work that
 * waits longer than in the standing plan), each decoded and kept when it is better; then, where there is budget for it,
 * the general search over the same activities.
 */
import { DaysDecoder } from "../core/days-decoder.js";
import type { Problem } from "../core/problem.js";
import type { Genome } from "../core/search.js";
import { searchWith } from "../core/start-search.js";
import { listFocus } from "./focus.js";
import { hurryJob, moveInLine } from "./order-changes.js";
import { isBetter, type Recovery, type Solved, type Variant } from "./recovery.js";

/** What may be changed, and how long is looked. */
export interface ReorderOptions {
  readonly resequence: boolean;
  readonly lend: boolean;
  readonly seed: number;
  /** Schedules decoded at most. */
  readonly schedules: number;
}

/** Share of the budget that the changes where it hurts may take, where the general search follows. */
const POINTED_SHARE = 0.5;
/** With fewer schedules than this the general search finds nothing. */
const LEAST_SEARCH = 20;
/** Activities whose crews are chosen anew at once, and what a day of delay is worth then (in days of the price). */
const FREED = [
  { most: 8, dayValue: 5 },
  { most: 60, dayValue: 20 },
  { most: 20, dayValue: 1 },
];

/** Changes schedules of one variant; keeps what it has decoded from one call to the next. */
export class Reorderer {
  private readonly recovery: Recovery;
  private readonly problem: Problem;
  /** What comes before everything else, in its order. */
  private readonly first: readonly number[];
  private readonly decoder: DaysDecoder;
  private readonly fixed: ReadonlySet<number>;
  /** Of the schedule decoded last. */
  private solved: Solved | null = null;
  private best: Solved | null = null;
  private schedules = 0;
  private readonly tried = new Set<string>();

  /** `held` is the plan in the order to hold: what is published and kept there stays before everything else. */
  constructor(
    private readonly variant: Variant,
    held: Solved,
  ) {
    const { recovery } = variant;
    const { problem } = variant.compiled;
    this.recovery = recovery;
    this.problem = problem;
    const unkept = recovery.promises.listUnkept(held.timeline);
    const kept = [...recovery.promises.tasks].filter((task) => !unkept.has(task));
    const isKept = new Set(kept.map((task) => problem.activityOf[task] ?? -1));
    const first = new Set(recovery.held.first);
    const add = (index: number): void => {
      if (first.has(index)) return;
      for (const earlier of problem.activities[index]?.after ?? []) add(earlier);
      first.add(index);
    };
    for (const { activity } of held.choices) if (isKept.has(activity)) add(activity);
    this.first = [...first];
    this.fixed = first;
    this.decoder = this.makeDecoder(problem);
  }

  /** The best schedule found from `from` on; at least as good as that where it is of the same variant. */
  improve(from: Solved, options: ReorderOptions): Solved {
    this.best = from.variant === this.variant ? from : null;
    this.schedules = 0;
    this.tried.clear();
    const { schedules } = options;
    const searchesOn = options.resequence && schedules * (1 - POINTED_SHARE) >= LEAST_SEARCH;
    const most = searchesOn ? Math.ceil(schedules * POINTED_SHARE) : schedules;
    // The same order by this decoder: rain work may get ahead of other tasks here.
    this.tryGenome(this.genomeOf(from));
    let best = this.best ?? from;
    while (this.schedules < most && this.improveWhereItHurts(best, most, options)) best = this.best ?? from;
    if (searchesOn) this.searchOn(this.best ?? from, options);
    return this.best ?? from;
  }

  private makeDecoder(problem: Problem): DaysDecoder {
    const decoder: DaysDecoder = new DaysDecoder(problem, this.first, (timeline, unplaced) => {
      const solved = this.recovery.solve(this.variant, problem, timeline, decoder.choices, unplaced);
      this.solved = solved;
      this.schedules += 1;
      if (this.best === null || isBetter(solved, this.best)) this.best = solved;
      return { cost: solved.price, tie: solved.costed.totalFinish };
    });
    return decoder;
  }

  /** Order and staffings of a schedule, by the staffings of the whole problem. */
  private genomeOf({ timeline, choices, unplaced }: Solved): Genome {
    const staffing = new Int32Array(this.problem.activities.length);
    for (const { activity } of choices) {
      const facts = this.problem.activities[activity];
      const same = facts?.staffings.findIndex((crews) =>
        facts.tasks.every((task, place) => crews[place] === timeline.crewOf[task]),
      );
      staffing[activity] = Math.max(0, same ?? 0);
    }
    return { order: Int32Array.from([...choices.map(({ activity }) => activity), ...unplaced]), staffing };
  }

  /** Decodes what has not been tried in this run; whether it is the best so far. */
  private tryGenome(genome: Genome, dayValue = 0): boolean {
    const key = `${genome.order.join()} ${genome.staffing.join()} ${dayValue}`;
    if (this.tried.has(key)) return false;
    this.tried.add(key);
    this.decoder.decodeFreely(genome.order, genome.staffing.slice(), dayValue);
    return this.solved === this.best;
  }

  /** One round over what hurts; whether it found anything and there is budget left. */
  private improveWhereItHurts(from: Solved, most: number, options: ReorderOptions): boolean {
    const { resequence, lend } = options;
    const focus = listFocus(this.recovery, from, this.fixed);
    let best = from;
    let improved = false;
    const attempt = (genome: Genome | null, dayValue = 0): boolean => {
      if (genome === null || this.schedules >= most) return false;
      if (!this.tryGenome(genome, dayValue)) return false;
      improved = true;
      best = this.best ?? best;
      return true;
    };
    if (lend)
      for (const { most: freed, dayValue } of FREED)
        attempt(this.free(this.genomeOf(best), focus.slice(0, freed)), dayValue);
    const hurried = new Set<number>();
    for (const activity of focus) {
      if (this.schedules >= most) break;
      const genome = this.genomeOf(best);
      const site = this.problem.activities[activity]?.site ?? -1;
      if (resequence && !hurried.has(site)) {
        hurried.add(site);
        attempt(hurryJob(this.problem, best, genome, this.fixed, site));
      }
      const found =
        resequence &&
        [-1, 1, -3].some((by) => attempt(moveInLine(this.problem, genome, this.fixed, activity, by)));
      if (lend && !found) this.listOthers(genome, activity).some((other) => attempt(other));
    }
    return improved && this.schedules < most;
  }

  /** The crews of some activities left for the decoder to choose. */
  private free(genome: Genome, activities: readonly number[]): Genome | null {
    const staffing = genome.staffing.slice();
    const free = activities.filter(
      (activity) => (this.problem.activities[activity]?.staffings.length ?? 0) > 1,
    );
    for (const activity of free) staffing[activity] = -1;
    return free.length > 0 ? { order: genome.order, staffing } : null;
  }

  /** An activity with each other staffing: it goes there among the work of the time at which it was due. */
  private listOthers({ order, staffing }: Genome, activity: number): readonly Genome[] {
    const count = this.problem.activities[activity]?.staffings.length ?? 0;
    return Array.from({ length: count }, (_, other) => other)
      .filter((other) => other !== staffing[activity])
      .map((other) => ({ order, staffing: staffing.with(activity, other) }));
  }

  private searchOn(from: Solved, { seed, lend, schedules }: ReorderOptions): void {
    const genome = this.genomeOf(from);
    const focus = new Set(listFocus(this.recovery, from, this.fixed));
    const { activities } = this.problem;
    const fixed = new Set(
      [...activities.keys()].filter((index) => this.fixed.has(index) || !focus.has(index)),
    );
    const search = searchWith(
      lend ? this.decoder : this.makeDecoder(withStaffing(this.problem, genome.staffing)),
      {
        seed,
        from: lend ? genome : { order: genome.order, staffing: new Int32Array(activities.length) },
        fixed,
        schedules: schedules - this.schedules,
      },
    );
    while (search.step());
  }
}

/** The problem with each activity staffed as it is. */
function withStaffing(problem: Problem, staffing: Int32Array): Problem {
  return {
    ...problem,
    activities: problem.activities.map((activity, index) => {
      const own = activity.staffings[staffing[index] ?? 0];
      return own ? { ...activity, staffings: [own] } : activity;
    }),
  };
}
