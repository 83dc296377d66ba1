/**
 * A first plan: of all activities whose predecessors are placed, the one that can start first is placed next, near
 * ties by a priority rule (a parallel schedule-generation scheme on top of the serial decoder; Kolisch 1996).
 * Work under way and published work come before everything else.
 */
import { EndBounds } from "./end-bounds.js";
import { usesEquipment } from "./equipment.js";
import { Heap } from "./heap.js";
import { PlacementPricer } from "./placement-pricer.js";
import { Placer } from "./placer.js";
import { FOREVER, LIFT, type Activity, type Problem } from "./problem.js";
import { listGaps } from "./rain-work.js";
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

/** Decodes given choices again, in their order. `observe` sees where each activity goes, just before it is placed. */
export function decode(
  problem: Problem,
  choices: readonly Choice[],
  observe: (placer: Placer, choice: Choice, placement: Placement) => void = () => undefined,
): Timeline {
  const timeline = new Timeline(problem);
  const placer = new Placer(problem, timeline);
  for (const choice of choices) {
    const placement = placer.attempt(choice.activity, choice.staffing, LIFT.nothing);
    if (placement === null) continue;
    observe(placer, choice, placement);
    timeline.commit(placement, listGaps(placer, placement));
  }
  return timeline;
}

const NOBODY: ReadonlySet<number> = new Set();
const NO_CREWS = new Int32Array();

interface Best {
  readonly staffing: number;
  readonly start: number;
  /** What staffings are compared by: the lower, the better. */
  readonly score: number;
  /** Where it was tried just now; null where the trial is an older one that still holds. */
  readonly placement: Placement | null;
}

class Construction {
  private readonly timeline: Timeline;
  private readonly placer: Placer;
  private readonly heap = new Heap();
  private readonly waitingFor: Int32Array;
  private readonly choices: Choice[] = [];
  private readonly unplaced = new Set<number>();
  private readonly priority: Float64Array;
  private readonly ranked: readonly number[];
  private readonly pricer: PlacementPricer;
  private readonly bounds: EndBounds;
  /** Per activity and staffing (a row of `bounds`): what a trial gave, and at which state of its crews. */
  private readonly trialVersion: Int32Array;
  private readonly trialStart: Int32Array;
  private readonly trialScore: Float64Array;
  private readonly holdsEquipment: Uint8Array;
  /** The staffings of the activity at hand, the most promising first, each with the least score that it can have. */
  private readonly tried: number[] = [];
  private readonly least: number[] = [];

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
    this.ranked = [...problem.activities.keys()]
      .filter((index) => this.rankOf(index) >= 0)
      .sort((a, b) => this.rankOf(a) - this.rankOf(b) || a - b);
    this.pricer = new PlacementPricer(problem);
    this.bounds = new EndBounds(problem);
    const rows = this.bounds.from[problem.activities.length] ?? 0;
    this.trialVersion = new Int32Array(rows).fill(-1);
    this.trialStart = new Int32Array(rows);
    this.trialScore = new Float64Array(rows);
    this.holdsEquipment = Uint8Array.from(problem.activities, (activity) =>
      usesEquipment(problem, activity) ? 1 : 0,
    );
  }

  run(): Schedule {
    const { activities } = this.problem;
    for (const index of this.ranked) this.placeFirst(index);
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
      else this.place(index, best, true);
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
    if (best) this.place(index, best, false);
    else this.unplaced.add(index);
  }

  private offer(index: number): void {
    if (this.timeline.placed[index] || this.unplaced.has(index)) return;
    const best = this.evaluate(index);
    if (best === null) this.unplaced.add(index);
    else this.heap.push(index, this.bucket(best.start), this.priority[index] as number);
  }

  private place(index: number, { staffing, placement: tried }: Best, offering: boolean): void {
    const placement = tried ?? this.placer.attempt(index, staffing, LIFT.nothing);
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

  /** The staffing with the lowest score; null where none fits. */
  private evaluate(index: number, avoided: ReadonlySet<number> = NOBODY): Best | null {
    const activity = this.problem.activities[index];
    if (!activity) return null;
    this.listTries(index, activity, avoided);
    const firstRow = this.bounds.from[index] ?? 0;
    let best: Best | null = null;
    let compared = 0;
    for (let at = 0; at < this.tried.length && compared < this.rule.compared; at++) {
      const staffing = this.tried[at] as number; // proof: at is below its length
      // Of equal scores the later start is better, so only a higher one can be passed over.
      if (best !== null && (this.least[at] ?? 0) > best.score) break;
      const placement = this.trial(index, activity, staffing);
      const score = this.trialScore[firstRow + staffing] as number; // proof: one for each row
      if (score === Infinity) continue;
      compared += 1;
      const start = this.trialStart[firstRow + staffing] as number; // proof: as above
      if (best === null || comesBefore(score, start, staffing, best))
        best = { staffing, start, score, placement };
    }
    return best;
  }

  /** Fills `tried` and `least`. */
  private listTries(index: number, activity: Activity, avoided: ReadonlySet<number>): void {
    const { tried, least } = this;
    tried.length = 0;
    least.length = 0;
    if (activity.kind === "wait") {
      tried.push(0);
      least.push(-Infinity);
      return;
    }
    const first = this.problem.tasks[activity.tasks[0] ?? -1];
    const earliest = first ? this.placer.earliest(first, index, LIFT.nothing) : this.problem.start;
    for (let staffing = 0; staffing < activity.staffings.length; staffing++) {
      if (avoided.size > 0 && activity.staffings[staffing]?.some((crew) => avoided.has(crew))) continue;
      const bound = this.leastScore(index, staffing, earliest);
      let at = tried.length;
      for (; at > 0 && (least[at - 1] ?? 0) > bound; at--) {
        tried[at] = tried[at - 1] ?? 0;
        least[at] = least[at - 1] ?? 0;
      }
      tried[at] = staffing;
      least[at] = bound;
    }
  }

  /** Crews whose own work under way is not placed yet: nothing of another activity may come before it. */
  private listAwaited(index: number): ReadonlySet<number> {
    const own = this.listBegun(index);
    const awaited = new Set<number>();
    for (const other of this.ranked) {
      if (other === index || this.timeline.placed[other] || this.unplaced.has(other)) continue;
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

  /** Tries a staffing, unless its last trial still holds; its score is Infinity where it does not fit. */
  private trial(index: number, activity: Activity, staffing: number): Placement | null {
    const row = (this.bounds.from[index] ?? 0) + staffing;
    let version = 0;
    for (const crew of activity.staffings[staffing] ?? []) version += this.timeline.version[crew] ?? 0;
    const known = this.trialVersion[row] as number; // proof: one for each row
    // What fits nowhere fits nowhere behind more work either.
    if (known >= 0 && this.trialScore[row] === Infinity) return null;
    if (known === version && !this.holdsEquipment[index]) return null;
    const placement = this.placer.attempt(index, staffing, LIFT.nothing);
    this.trialVersion[row] = version;
    this.trialStart[row] = placement?.start ?? FOREVER;
    this.trialScore[row] = placement ? this.score(placement) : Infinity;
    return placement;
  }

  private score(placement: Placement): number {
    const { crew } = this.rule;
    return crew === "soonest" ? placement.end : this.pricer.price(placement, crew.dayValue);
  }

  /** No trial of a staffing has a lower score. */
  private leastScore(index: number, staffing: number, earliest: number): number {
    const { crew } = this.rule;
    const end = this.bounds.soonest(this.placer, index, staffing, earliest);
    if (crew === "soonest") return end;
    const crews = this.problem.activities[index]?.staffings[staffing] ?? NO_CREWS;
    return this.pricer.leastPrice(index, this.timeline, crews, end, crew.dayValue);
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
function comesBefore(score: number, start: number, staffing: number, best: Best): boolean {
  return score < best.score || (score === best.score && (best.start - start || staffing - best.staffing) < 0);
}
