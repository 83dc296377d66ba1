/**
 * What a placement costs by itself: the idle time that it adds to its crews' days or fills in them, and the lateness
 * that it brings about if what comes behind it takes its usual time. An estimate, to choose crews by.
 */
import { DayHours } from "./day-hours.js";
import { FOREVER, type Problem } from "./problem.js";
import type { Draft, Placement, Timeline } from "./timeline.js";
import type { Visit } from "./visit.js";

const MINUTES_PER_DAY = 1440;
/** What rounding can do to a sum of money. */
const ROUNDING = 1e-6;

export class PlacementPricer {
  private readonly hours: DayHours;
  /** Usual elapsed minutes from the end of each activity to the end of its job. */
  private readonly behind: Float64Array;
  /** Idle minutes of the last day of each crew's line, for its last visit when they were counted. */
  private readonly tailIdle: Float64Array;
  private readonly tailVisit: (Visit | null)[];

  constructor(private readonly problem: Problem) {
    this.hours = new DayHours(problem);
    const { activities } = problem;
    this.behind = Float64Array.from(activities, ({ followers }) =>
      Math.max(0, ...followers.map((follower) => activities[follower]?.tailMinutes ?? 0)),
    );
    this.tailIdle = new Float64Array(problem.crewCount);
    this.tailVisit = Array.from({ length: problem.crewCount }, () => null);
  }

  /** Money; `dayValue` is what a day of delay is worth besides lateness. */
  price(placement: Placement, dayValue: number): number {
    let idleMinutes = 0;
    for (const draft of placement.drafts) idleMinutes += this.addedIdle(draft);
    for (const { gap, visit } of placement.inGaps) {
      const calledOut = gap.before !== null || gap.next !== null;
      idleMinutes += calledOut ? -this.busy([visit]) : this.idle([visit]);
    }
    return this.sum(placement.activity, idleMinutes, placement.end, dayValue);
  }

  /**
   * No placement of an activity with these crews that ends no sooner than `end` has a lower price: at best it fills
   * what is idle in the last day of each of them. What a gap is worth is not looked at.
   */
  leastPrice(activity: number, timeline: Timeline, crews: Int32Array, end: number, dayValue: number): number {
    let idleMinutes = 0;
    for (let place = 0; place < crews.length; place++) {
      const crew = crews[place] as number; // proof: place is below its length
      if (place > 0 && crews.indexOf(crew) < place) continue;
      if (timeline.gaps[crew]?.length !== 0) return -Infinity;
      idleMinutes += this.idleAtTail(timeline, crew);
    }
    return this.sum(activity, -idleMinutes, end, dayValue) - ROUNDING;
  }

  private idleAtTail(timeline: Timeline, crew: number): number {
    const last = timeline.lastVisit(crew);
    if (last === null) return 0;
    if (this.tailVisit[crew] !== last) {
      this.tailVisit[crew] = last;
      this.tailIdle[crew] = this.idle(listDay(last));
    }
    return this.tailIdle[crew] ?? 0;
  }

  /** Idle time, lateness if what comes behind takes its usual time, and the days themselves. */
  private sum(index: number, idleMinutes: number, end: number, dayValue: number): number {
    const { problem } = this;
    const { prices } = problem;
    const activity = problem.activities[index];
    const finish = end + (this.behind[index] ?? 0);
    const late =
      activity && activity.due < FOREVER ? Math.max(0, finish - activity.due) / MINUTES_PER_DAY : 0;
    const days = (end - problem.start) / MINUTES_PER_DAY;
    return (
      (prices.idleCrewHour * idleMinutes) / 60 +
      prices.lateDay * (activity?.weight ?? 1) * late +
      dayValue * days
    );
  }

  private addedIdle(draft: Draft): number {
    let added = 0;
    let last: Visit | null = null;
    for (const visit of draft.list()) {
      if (last && last.day !== visit.day) added += this.idle(listDay(last));
      last = visit;
    }
    if (last) added += this.idle(listDay(last));
    const { base } = draft;
    const firstDay = draft.list()[0]?.day;
    return base && base.day === firstDay ? added - this.idle(listDay(base)) : added;
  }

  private idle(day: readonly Visit[]): number {
    const last = day.at(-1);
    if (!last) return 0;
    const cover = last.coverChains.length * this.problem.coverUpMinutes;
    return this.hours.paidMinutes(last.crew, last.day, last, cover) - this.busy(day);
  }

  private busy(day: readonly Visit[]): number {
    const { coverUpMinutes } = this.problem;
    return this.hours.busyMinutes(
      day[0]?.crew ?? 0,
      day,
      (visit) => visit.coverChains.length * coverUpMinutes,
    );
  }
}

/** The visits of a day up to its last. */
function listDay(last: Visit): readonly Visit[] {
  const day = [last];
  for (let visit = last.before; visit !== null; visit = visit.before) day.unshift(visit);
  return day;
}
