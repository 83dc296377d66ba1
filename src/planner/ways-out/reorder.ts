/**
 * Another order, other crews: from a schedule that stands, small changes where the slip hurts (houses that are late, work
 * that waits longer than in the standing plan), each decoded and kept when it is better; then, with what is left of the
 * budget, the general search over the same activities.
 */
import { DaysDecoder } from "../core/days-decoder.js";
import type { Problem } from "../core/problem.js";
import type { Genome } from "../core/search.js";
import { searchWith } from "../core/start-search.js";
import { isBetter, type Recovery, type Solved, type Variant } from "./recovery.js";

/** What may be changed, and how long is looked. */
export interface ReorderOptions {
  readonly resequence: boolean;
  readonly lend: boolean;
  readonly seed: number;
  /** Schedules decoded at most; the first is the one that stands. */
  readonly schedules: number;
}

/** Activities that are looked at, at most. */
const MOST_FOCUS = 60;
/** Share of the budget that the changes where it hurts may take. */
const POINTED_SHARE = 0.6;
/** What makes a schedule worthless: it leaves something out. */
const TRIED_CREWS = 3;

/** The best schedule found from `from` on, which is at least as good as that. */
export function reorder(recovery: Recovery, variant: Variant, from: Solved, options: ReorderOptions): Solved {
  const run = new Reordering(recovery, variant, from, options);
  return run.run();
}

class Reordering {
  private readonly problem: Problem;
  private readonly decoder: DaysDecoder;
  private readonly fixed: ReadonlySet<number>;
  private best: Solved;
  private genome: Genome;
  private schedules = 0;
  /** Of the schedule decoded last. */
  private solved: Solved;

  constructor(
    private readonly recovery: Recovery,
    private readonly variant: Variant,
    from: Solved,
    private readonly options: ReorderOptions,
  ) {
    const { problem } = variant.compiled;
    const staffing = new Int32Array(problem.activities.length);
    for (const choice of from.choices) staffing[choice.activity] = choice.staffing;
    this.problem = options.lend ? problem : withStaffing(problem, staffing);
    this.best = from;
    this.solved = from;
    this.genome = {
      order: Int32Array.from([...from.choices.map(({ activity }) => activity), ...from.unplaced]),
      staffing: options.lend ? staffing : new Int32Array(staffing.length),
    };
    const ranked = [...problem.activities.keys()].filter(
      (index) => (problem.activities[index]?.rank ?? -1) >= 0,
    );
    const first = [...recovery.held.first];
    this.fixed = new Set([...first, ...ranked]);
    const decoder: DaysDecoder = new DaysDecoder(this.problem, first, (timeline, unplaced) => {
      this.solved = recovery.solve(variant, this.problem, timeline, decoder.choices, unplaced);
      return { cost: this.solved.price, tie: this.solved.costed.totalFinish };
    });
    this.decoder = decoder;
  }

  run(): Solved {
    // The same order by this decoder: rain work may get ahead of other tasks here.
    this.tryGenome(this.genome);
    const pointed = Math.ceil(this.options.schedules * POINTED_SHARE);
    while (this.schedules < pointed && this.improveWhereItHurts(pointed));
    this.searchOn();
    return this.best;
  }

  /** Decodes; keeps it where it is better than the best. */
  private tryGenome(genome: Genome): boolean {
    this.decoder.decode(genome.order, genome.staffing);
    this.schedules += 1;
    if (!isBetter(this.solved, this.best)) return false;
    this.best = this.solved;
    this.genome = genome;
    return true;
  }

  private improveWhereItHurts(most: number): boolean {
    let improved = false;
    for (const activity of this.listFocus()) {
      for (const change of this.listChanges(activity)) {
        if (this.schedules >= most) return false;
        const genome = change();
        if (genome === null) continue;
        if (this.tryGenome(genome)) {
          improved = true;
          break;
        }
      }
    }
    return improved;
  }

  private startOf(activity: number): number {
    const { timeline } = this.best;
    let start = Infinity;
    for (const task of this.problem.activities[activity]?.tasks ?? [])
      start = Math.min(start, timeline.startOf[task] ?? Infinity);
    return start;
  }

  private endOf(activity: number): number {
    const { timeline } = this.best;
    let end = 0;
    for (const task of this.problem.activities[activity]?.tasks ?? [])
      end = Math.max(end, timeline.endOf[task] ?? 0);
    return end;
  }

  /** Activities of late houses first, the worst house first; then what waits longer than it did, the soonest first. */
  private listFocus(): readonly number[] {
    const { activities } = this.problem;
    const lateOfSite = new Map<number, number>();
    const delayed: { activity: number; start: number }[] = [];
    for (const [index, activity] of activities.entries()) {
      const late = (this.endOf(index) - activity.due) * activity.weight;
      if (late > 0) lateOfSite.set(activity.site, Math.max(late, lateOfSite.get(activity.site) ?? 0));
      const start = this.startOf(index);
      if (start > (this.recovery.held.starts[index] ?? 0)) delayed.push({ activity: index, start });
    }
    const late = [...activities.keys()]
      .filter((index) => lateOfSite.has(activities[index]?.site ?? -1))
      .map((activity) => ({
        activity,
        late: lateOfSite.get(activities[activity]?.site ?? -1) ?? 0,
        start: this.startOf(activity),
      }))
      .sort((a, b) => b.late - a.late || a.start - b.start || a.activity - b.activity);
    delayed.sort((a, b) => a.start - b.start || a.activity - b.activity);
    const focus = new Set<number>();
    for (let place = 0; place < Math.max(late.length, delayed.length); place++) {
      for (const one of [late[place], delayed[place]]) {
        if (one && !this.fixed.has(one.activity) && activities[one.activity]?.kind !== "wait")
          focus.add(one.activity);
      }
      if (focus.size >= MOST_FOCUS) break;
    }
    return [...focus];
  }

  private listChanges(activity: number): readonly (() => Genome | null)[] {
    const { resequence, lend } = this.options;
    const site = this.problem.activities[activity]?.site ?? -1;
    const changes: (() => Genome | null)[] = [];
    if (resequence) {
      changes.push(() => this.moveInLine(activity, -1));
      changes.push(() => this.moveInLine(activity, -3));
      changes.push(() => this.moveInLine(activity, 1));
    }
    if (lend) {
      for (const staffing of this.listOtherStaffings(activity))
        changes.push(() => this.reassign([activity], staffing));
    }
    if (resequence) changes.push(() => this.hurry(site));
    return changes;
  }

  /** An activity as many places earlier (negative) or later on its crew's line, as far as precedence lets it. */
  private moveInLine(activity: number, by: number): Genome | null {
    const { order, staffing } = this.genome;
    const { activities } = this.problem;
    const crewsOf = (index: number): readonly number[] => [
      ...(activities[index]?.staffings[staffing[index] ?? 0] ?? []),
    ];
    const own = new Set(crewsOf(activity).filter((crew) => crew >= 0));
    const at = order.indexOf(activity);
    const step = Math.sign(by);
    let left = Math.abs(by);
    let to = at;
    for (let place = at + step; place >= 0 && place < order.length && left > 0; place += step) {
      const other = order[place] ?? -1;
      const follows = step < 0 ? activities[activity]?.after : activities[activity]?.followers;
      if (follows?.includes(other) || this.fixed.has(other)) break;
      if (crewsOf(other).some((crew) => own.has(crew))) {
        to = place;
        left -= 1;
      }
    }
    if (to === at) return null;
    const moved = order.slice();
    if (to < at) moved.copyWithin(to + 1, to, at);
    else moved.copyWithin(at, at + 1, to + 1);
    moved[to] = activity;
    return { order: moved, staffing };
  }

  /** Everything of a house ahead of what starts up to as many minutes before as the house is late. */
  private hurry(site: number): Genome | null {
    const { activities } = this.problem;
    let late = 0;
    for (const [index, activity] of activities.entries())
      if (activity.site === site) late = Math.max(late, this.endOf(index) - activity.due);
    if (late <= 0) return null;
    const keys = Float64Array.from(activities, ({ site: own }, index) =>
      own === site && !this.fixed.has(index) ? this.startOf(index) - late - 1440 : this.startOf(index),
    );
    const place = new Int32Array(activities.length);
    this.genome.order.forEach((activity, at) => (place[activity] = at));
    const order = this.genome.order.toSorted(
      (a, b) => (keys[a] ?? 0) - (keys[b] ?? 0) || (place[a] ?? 0) - (place[b] ?? 0),
    );
    return { order, staffing: this.genome.staffing };
  }

  /** Other ways to staff an activity, those first whose crews have least to do in the time around it. */
  private listOtherStaffings(activity: number): readonly number[] {
    const facts = this.problem.activities[activity];
    if (!facts || facts.staffings.length < 2) return [];
    const own = this.genome.staffing[activity] ?? 0;
    const from = this.recovery.held.starts[activity] ?? 0;
    const to = Math.max(this.startOf(activity), from + 5 * 1440);
    return [...facts.staffings.keys()]
      .filter((staffing) => staffing !== own)
      .map((staffing) => ({ staffing, load: this.loadOf(facts.staffings[staffing], from, to) }))
      .sort((a, b) => a.load - b.load || a.staffing - b.staffing)
      .slice(0, TRIED_CREWS)
      .map(({ staffing }) => staffing);
  }

  private loadOf(crews: Int32Array | undefined, from: number, to: number): number {
    let load = 0;
    for (const crew of new Set(crews)) {
      for (const { items } of this.best.timeline.visits[crew] ?? [])
        for (const { start, end, minutes } of items) if (end > from && start < to) load += minutes;
    }
    return load;
  }

  private reassign(activities: readonly number[], to: number): Genome {
    const staffing = this.genome.staffing.slice();
    for (const activity of activities) staffing[activity] = to;
    // The other crew takes it at the time at which it was due, among its own work.
    return { order: this.genome.order, staffing };
  }

  private searchOn(): void {
    const left = this.options.schedules - this.schedules;
    if (left < 2 || !this.options.resequence) return;
    const focus = new Set(this.listFocus());
    const { activities } = this.problem;
    const fixed = new Set(
      [...activities.keys()].filter((index) => this.fixed.has(index) || !focus.has(index)),
    );
    const before = this.best;
    const { genome } = this;
    const kept: { best: Solved } = { best: before };
    const search = searchWith(
      this.watched((solved) => {
        if (isBetter(solved, kept.best)) kept.best = solved;
      }),
      { seed: this.options.seed, from: genome, fixed, schedules: left },
    );
    while (search.step());
    this.best = kept.best;
  }

  /** A decoder that tells of every schedule. */
  private watched(see: (solved: Solved) => void): DaysDecoder {
    const decoder: DaysDecoder = new DaysDecoder(
      this.problem,
      this.recovery.held.first,
      (timeline, unplaced) => {
        const solved = this.recovery.solve(this.variant, this.problem, timeline, decoder.choices, unplaced);
        see(solved);
        return { cost: solved.price, tie: solved.costed.totalFinish };
      },
    );
    return decoder;
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
