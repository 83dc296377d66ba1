/**
 * The decoder of crew days as the search sees it. What comes before everything else (under way, standing open,
 * published) keeps its place; the rest is decoded in the order that the search gives.
 */
import { CheapestStaffing } from "./cheapest-staffing.js";
import type { Choice } from "./construct.js";
import { PlacementMemo } from "./placement-memo.js";
import { Placer } from "./placer.js";
import type { Problem } from "./problem.js";
import { listGaps } from "./rain-work.js";
import { toRows, type Rows, type ScheduleDecoder } from "./schedule-decoder.js";
import { Timeline, type Placement } from "./timeline.js";

/** Money for a decoded plan, and what breaks ties. */
export type PricePlan = (
  timeline: Timeline,
  unplaced: readonly number[],
) => { readonly cost: number; readonly tie: number };

/** What leaving an activity out costs: more than any plan. */
const UNPLACED_COST = 1e12;

export class DaysDecoder implements ScheduleDecoder {
  readonly count: number;
  readonly before: Rows;
  readonly behind: Rows;
  readonly staffings: Rows;
  readonly load: Float64Array;
  /** Left out: equipment counts by nights, which no change of keys can price. */
  readonly uses: Rows;
  readonly capacity: Int32Array;
  readonly tails: Float64Array;
  readonly start: Int32Array;
  readonly end: Int32Array;
  readonly group: Int32Array;
  readonly groupCount: number;
  readonly canMirror = false;
  tie = 0;
  /** What the last schedule decoded was made of. */
  choices: readonly Choice[] = [];
  unplaced: readonly number[] = [];
  timeline: Timeline;
  private readonly isFirst: Uint8Array;
  private readonly memo: PlacementMemo;
  private readonly cheapest: CheapestStaffing;

  /** `first` are the activities that come before everything else, in their order. */
  constructor(
    readonly problem: Problem,
    private readonly first: readonly number[],
    private readonly price: PricePlan,
  ) {
    const { activities, tasks } = problem;
    this.count = activities.length;
    this.group = Int32Array.from(activities, (activity) => activity.site);
    this.groupCount = problem.siteCount;
    this.start = new Int32Array(this.count);
    this.end = new Int32Array(this.count);
    this.before = toRows(
      activities.map((activity) => activity.after.map((earlier) => [earlier, 0] as const)),
    );
    this.behind = toRows(
      activities.map((activity) => activity.followers.map((later) => [later, 0] as const)),
    );
    this.staffings = toRows(
      activities.map((activity) =>
        (activity.staffings.length > 0 ? activity.staffings : [null]).map((crews) => {
          const crew = crews && crews.every((one) => one === crews[0]) ? (crews[0] ?? -1) : -1;
          const minutes = activity.tasks.reduce(
            (sum, task, place) => sum + Math.max(0, tasks[task]?.minutes[crews?.[place] ?? -1] ?? 0),
            0,
          );
          return [crew, minutes] as const;
        }),
      ),
    );
    this.load = new Float64Array(this.count).fill(1);
    this.uses = toRows(activities.map(() => []));
    this.capacity = new Int32Array(0);
    this.tails = Float64Array.from(activities, (activity) => activity.tailMinutes);
    this.timeline = new Timeline(problem);
    this.isFirst = new Uint8Array(this.count);
    this.memo = new PlacementMemo(problem);
    this.cheapest = new CheapestStaffing(problem);
    for (const activity of first) this.isFirst[activity] = 1;
  }

  decode(order: Int32Array, staffing: Int32Array): number {
    return this.decodeFreely(order, staffing, 0);
  }

  decodeFreely(order: Int32Array, staffing: Int32Array, dayValue: number): number {
    const { problem, first, isFirst } = this;
    this.timeline = new Timeline(problem);
    const placer = new Placer(problem, this.timeline);
    const choices: Choice[] = [];
    const unplaced: number[] = [];
    for (const activity of [...first, ...order.filter((other) => !isFirst[other])]) {
      const placement = this.find(placer, activity, staffing, dayValue);
      // What is left out stays where its job would end, for orders made from starts.
      this.start[activity] = (placement?.start ?? problem.start) - problem.start;
      this.end[activity] = (placement?.end ?? problem.start) - problem.start;
      if (placement === null) {
        unplaced.push(activity);
        continue;
      }
      this.timeline.commit(placement, listGaps(placer, placement));
      choices.push({ activity, staffing: staffing[activity] ?? 0 });
    }
    this.choices = choices;
    this.unplaced = unplaced.sort((a, b) => a - b);
    const { cost, tie } = this.price(this.timeline, this.unplaced);
    this.tie = tie;
    return cost + unplaced.length * UNPLACED_COST;
  }

  /** Where an activity goes; null where it does not fit, or what it follows does not. */
  private find(placer: Placer, activity: number, staffing: Int32Array, dayValue: number): Placement | null {
    const { problem, timeline } = this;
    const ready = problem.activities[activity]?.after.every((before) => timeline.placed[before]) === true;
    // A wait has nothing to choose from.
    if (problem.activities[activity]?.staffings.length === 0) staffing[activity] = 0;
    const given = staffing[activity] ?? 0;
    if (given < 0) {
      const chosen = ready ? this.cheapest.choose(placer, activity, dayValue) : null;
      staffing[activity] = chosen?.staffing ?? 0;
      return chosen?.placement ?? null;
    }
    return ready ? this.memo.attempt(placer, activity, given) : null;
  }
}
