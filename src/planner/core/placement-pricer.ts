/**
 * What a placement costs by itself: the idle time that it adds to its crews' days or fills in them, and the lateness
 * that it brings about if what comes behind it takes its usual time. An estimate, to choose crews by.
 */
import { DayHours } from "./day-hours.js";
import { FOREVER, type Problem } from "./problem.js";
import type { Draft, Placement } from "./timeline.js";
import type { Visit } from "./visit.js";

const MINUTES_PER_DAY = 1440;

export class PlacementPricer {
  private readonly hours: DayHours;
  /** Usual elapsed minutes from the end of each activity to the end of its job. */
  private readonly behind: Float64Array;

  constructor(private readonly problem: Problem) {
    this.hours = new DayHours(problem);
    const { activities } = problem;
    this.behind = Float64Array.from(activities, ({ followers }) =>
      Math.max(0, ...followers.map((follower) => activities[follower]?.tailMinutes ?? 0)),
    );
  }

  /** Money; `dayValue` is what a day of delay is worth besides lateness. */
  price(placement: Placement, dayValue: number): number {
    const { problem, behind } = this;
    const { prices } = problem;
    let idleMinutes = 0;
    for (const draft of placement.drafts) idleMinutes += this.addedIdle(draft);
    for (const { gap, visit } of placement.inGaps) {
      const calledOut = gap.before !== null || gap.next !== null;
      idleMinutes += calledOut ? -this.busy([visit]) : this.idle([visit]);
    }
    const activity = problem.activities[placement.activity];
    const finish = placement.end + (behind[placement.activity] ?? 0);
    const late =
      activity && activity.due < FOREVER ? Math.max(0, finish - activity.due) / MINUTES_PER_DAY : 0;
    const days = (placement.end - problem.start) / MINUTES_PER_DAY;
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
