/**
 * A first plan: of all activities whose predecessors are placed, the one that can start first is placed next, near
 * ties by a priority rule (a parallel schedule-generation scheme on top of the serial decoder; Kolisch 1996).
 * Work under way and published work come before everything else.
 */
import { Heap } from "./heap.js";
import { PlacementPricer } from "./placement-pricer.js";
import { Placer } from "./placer.js";
import { FOREVER, LIFT, type Activity, type Problem } from "./problem.js";
import { firstUsableGap, listGaps } from "./rain-work.js";
import { Timeline, type Placement } from "./timeline.js";

/** How near ties are broken. */
export interface PriorityRule {
  /** Starts inside one bucket of this many minutes count as equal. */
  readonly bucketMinutes: number;
  readonly by: "slack" | "due" | "longest-tail" | "job";
  /**
   * Which crew gets an activity: the one that ends it soonest, or the one that makes it cheapest (idle time that it adds
   * or fills, lateness that it brings about), a day of delay being worth so much.
   */
  readonly crew: "soonest" | { readonly dayValue: number };
  /** So many of the most promising staffings that fit are compared: few for a plan at once, all for a good one. */
  readonly compared: number;
}

/** Which activities in which order, each with which staffing: what a decoder needs to make the same plan again. */
export interface Choice {
  readonly activity: number;
  readonly staffing: number;
}

export interface Schedule {
  readonly timeline: Timeline;
  readonly choices: readonly Choice[];
  /** So many of the choices come before everything else. */
  readonly firstCount: number;
  /** Activities that fit into no window of the horizon, and those that follow one. */
  readonly unplaced: readonly number[];
}

/** Builds a plan by a priority rule; no chance enters into it. */
export function construct(problem: Problem, rule: PriorityRule): Schedule {
  return new Construction(problem, rule).run();
}

/** Decodes given choices again, in their order. `observe` sees each activity just before it is placed. */
export function decode(
  problem: Problem,
  choices: readonly Choice[],
  observe: (placer: Placer, choice: Choice) => void = () => undefined,
): Timeline {
  const timeline = new Timeline(problem);
  const placer = new Placer(problem, timeline);
  for (const choice of choices) {
    observe(placer, choice);
    const placement = placer.attempt(choice.activity, choice.staffing, LIFT.nothing);
    if (placement) timeline.commit(placement, listGaps(placer, placement));
  }
  return timeline;
}

const NOBODY: ReadonlySet<number> = new Set();

interface Trial {
  readonly version: number;
  readonly start: number;
  readonly end: number;
  /** What staffings are compared by: the lower, the better. */
  readonly score: number;
}

interface Best extends Trial {
  readonly staffing: number;
}

class Construction {
  private readonly timeline: Timeline;
  private readonly placer: Placer;
  private readonly heap = new Heap();
  private readonly waitingFor: Int32Array;
  private readonly choices: Choice[] = [];
  private readonly unplaced = new Set<number>();
  private readonly priority: Float64Array;
  /** Per activity and staffing: what a trial gave, and at which state of its crews. */
  private readonly trials: (Trial | undefined)[][];
  private readonly pricer: PlacementPricer;

  constructor(
    private readonly problem: Problem,
    private readonly rule: PriorityRule,
  ) {
    this.timeline = new Timeline(problem);
    this.placer = new Placer(problem, this.timeline);
    this.waitingFor = Int32Array.from(problem.activities, (activity) => activity.after.length);
    this.priority = Float64Array.from(problem.activities, (activity, index) =>
      this.priorityOf(activity, index),
    );
    this.trials = problem.activities.map(() => []);
    this.pricer = new PlacementPricer(problem);
  }

  run(): Schedule {
    const { activities } = this.problem;
    const ranked = activities.map((_, index) => index).filter((index) => this.rankOf(index) >= 0);
    for (const index of ranked.sort((a, b) => this.rankOf(a) - this.rankOf(b) || a - b))
      this.placeFirst(index);
    const firstCount = this.choices.length;
    for (const index of activities.keys()) if (this.waitingFor[index] === 0) this.offer(index);
    for (let index = this.heap.pop(); index !== undefined; index = this.heap.pop()) {
      if (this.timeline.placed[index]) continue;
      const best = this.evaluate(index);
      if (best === null) {
        this.unplaced.add(index);
        continue;
      }
      const key = this.bucket(best.start);
      const priority = this.priority[index] as number; // proof: one for each activity
      if (this.heap.isBehind(index, key, priority)) this.heap.push(index, key, priority);
      else this.place(index, best.staffing, true);
    }
    activities.forEach((_, index) => {
      if (!this.timeline.placed[index]) this.unplaced.add(index);
    });
    return {
      timeline: this.timeline,
      choices: this.choices,
      firstCount,
      unplaced: [...this.unplaced].sort((a, b) => a - b),
    };
  }

  private rankOf(index: number): number {
    return this.problem.activities[index]?.rank ?? -1;
  }

  /** Places what comes before everything else, and whatever must be placed before it can be. */
  private placeFirst(index: number): void {
    const activity = this.problem.activities[index];
    if (!activity || this.timeline.placed[index] || this.unplaced.has(index)) return;
    for (const before of activity.after) this.placeFirst(before);
    const ready = activity.after.every((before) => this.timeline.placed[before]);
    const best = ready ? (this.evaluate(index, this.listAwaited(index)) ?? this.evaluate(index)) : null;
    if (best) this.place(index, best.staffing, false);
    else this.unplaced.add(index);
  }

  private offer(index: number): void {
    if (this.timeline.placed[index] || this.unplaced.has(index)) return;
    const best = this.evaluate(index);
    if (best === null) this.unplaced.add(index);
    else this.heap.push(index, this.bucket(best.start), this.priority[index] as number);
  }

  private place(index: number, staffing: number, offering: boolean): void {
    const placement = this.placer.attempt(index, staffing, LIFT.nothing);
    if (placement === null) throw new Error(`a trial of activity ${index} cannot be repeated`);
    this.timeline.commit(placement, listGaps(this.placer, placement));
    this.choices.push({ activity: index, staffing });
    for (const follower of this.problem.activities[index]?.followers ?? []) {
      const left = (this.waitingFor[follower] as number) - 1; // proof: one for each activity
      this.waitingFor[follower] = left;
      if (left === 0 && offering) this.offer(follower);
    }
  }

  private bucket(start: number): number {
    return this.rule.bucketMinutes > 0 ? Math.floor(start / this.rule.bucketMinutes) : start;
  }

  /** The staffing that finishes first; null where none fits. */
  private evaluate(index: number, avoided: ReadonlySet<number> = NOBODY): Best | null {
    const activity = this.problem.activities[index];
    if (!activity) return null;
    const tries = this.listTries(index, activity, avoided);
    let best: Best | null = null;
    let compared = 0;
    for (const { staffing, bound } of tries) {
      // Of equal ends the later start is better, so only a later bound can be passed over.
      if (best !== null && this.rule.crew === "soonest" && bound > best.end) break;
      const trial = this.trial(index, activity, staffing);
      if (trial.end === FOREVER) continue;
      compared += 1;
      if (compared > this.rule.compared) break;
      if (best === null || comesBefore({ ...trial, staffing }, best)) best = { ...trial, staffing };
    }
    return best;
  }

  /** The staffings to try; where the soonest end decides, the most promising first. */
  private listTries(
    index: number,
    activity: Activity,
    avoided: ReadonlySet<number>,
  ): readonly { readonly staffing: number; readonly bound: number }[] {
    if (activity.kind === "wait") return [{ staffing: 0, bound: 0 }];
    const first = this.problem.tasks[activity.tasks[0] ?? -1];
    const earliest = first ? this.placer.earliest(first, index, LIFT.nothing) : this.problem.start;
    const tries: { staffing: number; bound: number }[] = [];
    for (const [staffing, crews] of activity.staffings.entries()) {
      if (avoided.size > 0 && crews.some((crew) => avoided.has(crew))) continue;
      const bound = this.rule.crew === "soonest" ? this.soonestEnd(activity, staffing, earliest) : 0;
      tries.push({ staffing, bound });
    }
    return tries.sort((a, b) => a.bound - b.bound || a.staffing - b.staffing);
  }

  /** Crews whose own work under way is not placed yet: nothing of another activity may come before it. */
  private listAwaited(index: number): ReadonlySet<number> {
    const own = this.listBegun(index);
    const awaited = new Set<number>();
    for (const other of this.problem.activities.keys()) {
      if (
        other === index ||
        this.timeline.placed[other] ||
        this.unplaced.has(other) ||
        this.rankOf(other) < 0
      )
        continue;
      for (const crew of this.listBegun(other)) if (!own.includes(crew)) awaited.add(crew);
    }
    return awaited;
  }

  /** Crews that have begun a task of an activity. */
  private listBegun(index: number): readonly number[] {
    const activity = this.problem.activities[index];
    const staffing = activity?.staffings[0];
    if (!activity || !staffing) return [];
    return activity.tasks.flatMap((task, place) =>
      this.problem.tasks[task]?.begun ? [staffing[place] ?? -1] : [],
    );
  }

  private trial(index: number, activity: Activity, staffing: number): Trial {
    const usesEquipment = activity.tasks.some(
      (task) => (this.problem.tasks[task]?.equipment.length ?? 0) > 0,
    );
    let version = 0;
    for (const crew of activity.staffings[staffing] ?? []) version += this.timeline.version[crew] ?? 0;
    const known = this.trials[index]?.[staffing];
    // What fits nowhere fits nowhere behind more work either.
    if (known && known.end === FOREVER) return known;
    if (known && known.version === version && !usesEquipment) return known;
    const placement: Placement | null = this.placer.attempt(index, staffing, LIFT.nothing);
    const trial = {
      version,
      start: placement?.start ?? FOREVER,
      end: placement?.end ?? FOREVER,
      score: placement ? this.score(placement) : FOREVER,
    };
    const row = this.trials[index];
    if (row) row[staffing] = trial;
    return trial;
  }

  private score(placement: Placement): number {
    const { crew } = this.rule;
    return crew === "soonest" ? placement.end : this.pricer.price(placement, crew.dayValue);
  }

  /** A minute before which a staffing cannot end the activity: its crews are busy, and need so many days. */
  private soonestEnd(activity: Activity, staffing: number, earliest: number): number {
    const { timeline, problem } = this;
    const crews = activity.staffings[staffing];
    let bound = earliest;
    for (const [place, crew] of (crews ?? []).entries()) {
      if (crews?.indexOf(crew) !== place) continue;
      const minutes = activity.tasks.reduce(
        (sum, task, other) => (crews[other] === crew ? sum + (problem.tasks[task]?.minutes[crew] ?? 0) : sum),
        0,
      );
      const behind = Math.max(earliest, timeline.lastVisit(crew)?.closeStart ?? 0);
      const own = activity.chain ? -1 : (activity.tasks[0] ?? -1);
      const free = Math.min(behind, firstUsableGap(this.placer, crew, own, earliest));
      // Each night between two days of work is at least a 23-hour day less the longest day.
      const longest = problem.longestDay[crew] ?? 1440;
      const nights = Math.max(0, Math.ceil(minutes / Math.max(1, longest)) - 1);
      bound = Math.max(bound, free + minutes + nights * Math.max(0, 1380 - longest));
    }
    return bound;
  }

  private priorityOf(activity: Activity, index: number): number {
    const span = Math.max(1, activity.due - this.problem.start);
    switch (this.rule.by) {
      case "slack":
        return (span - activity.tailMinutes) / Math.max(activity.weight, 0.01);
      case "due":
        return span / Math.max(activity.weight, 0.01);
      case "longest-tail":
        return -activity.tailMinutes;
      case "job":
        return activity.site * 10_000 + index / 10_000;
    }
  }
}

/** The lower score; of equal ones the later start, then the first in the list. */
function comesBefore(a: Best, b: Best): boolean {
  return a.score - b.score < 0 || (a.score === b.score && (b.start - a.start || a.staffing - b.staffing) < 0);
}
