/**
 * How soon each staffing of an activity can end at best, without trying it: its crews are busy so long, and need so many
 * days. What cannot beat the best so far need not be tried exactly.
 */
import type { Placer } from "./placer.js";
import { firstUsableGap } from "./rain-work.js";
import type { Activity, Problem } from "./problem.js";

/** Two days of work have at least so many minutes from the start of the one to the start of the other. */
const SHORTEST_DAY = 1380;

export class EndBounds {
  /** Row of the first staffing of each activity, and how many rows there are; a wait has one row. */
  readonly from: Int32Array;
  /** Of each row the crew, where it is one, and the minutes from its first work to its last. */
  private readonly crew: Int32Array;
  private readonly needs: Int32Array;

  constructor(private readonly problem: Problem) {
    const { activities } = problem;
    this.from = new Int32Array(activities.length + 1);
    for (const [index, activity] of activities.entries())
      this.from[index + 1] = (this.from[index] ?? 0) + Math.max(1, activity.staffings.length);
    const rows = this.from[activities.length] ?? 0;
    this.crew = new Int32Array(rows).fill(-1);
    this.needs = new Int32Array(rows);
    for (const [index, activity] of activities.entries()) {
      let row = this.from[index] ?? 0;
      for (const crews of activity.staffings) {
        const crew = onlyCrew(crews);
        this.crew[row] = crew;
        if (crew >= 0) this.needs[row] = spanOf(problem, activity, crews, crew);
        row += 1;
      }
    }
  }

  /** A minute before which the activity cannot end, not being able to start before `earliest`. */
  soonest(placer: Placer, index: number, staffing: number, earliest: number): number {
    const activity = this.problem.activities[index];
    if (!activity) return earliest;
    const row = (this.from[index] ?? 0) + staffing;
    const crew = this.crew[row] as number; // proof: one for each row
    if (crew >= 0)
      return Math.max(earliest, freeAt(placer, activity, crew, earliest) + (this.needs[row] ?? 0));
    const crews = activity.staffings[staffing] ?? new Int32Array();
    let bound = earliest;
    for (const one of crews) {
      const needs = spanOf(this.problem, activity, crews, one);
      bound = Math.max(bound, freeAt(placer, activity, one, earliest) + needs);
    }
    return bound;
  }
}

/** When a crew can go to work on an activity at the soonest. */
function freeAt(placer: Placer, activity: Activity, crew: number, earliest: number): number {
  const { timeline } = placer;
  const behind = Math.max(earliest, timeline.lastVisit(crew)?.closeStart ?? 0);
  if (timeline.gaps[crew]?.length === 0) return behind;
  const own = activity.chain ? -1 : (activity.tasks[0] ?? -1);
  return Math.min(behind, firstUsableGap(placer, crew, own, earliest));
}

/** The crew that does all, or −1. */
function onlyCrew(crews: Int32Array): number {
  const first = crews[0] ?? -1;
  for (let place = 1; place < crews.length; place++) if (crews[place] !== first) return -1;
  return first;
}

/** The minutes of a crew's tasks, and between its days at least the nights. */
function spanOf({ tasks, longestDay }: Problem, activity: Activity, crews: Int32Array, crew: number): number {
  let minutes = 0;
  for (let place = 0; place < crews.length; place++)
    if (crews[place] === crew) minutes += tasks[activity.tasks[place] ?? -1]?.minutes[crew] ?? 0;
  const longest = longestDay[crew] ?? 1440;
  const nights = Math.max(0, Math.ceil(minutes / Math.max(1, longest)) - 1);
  return minutes + nights * Math.max(0, SHORTEST_DAY - longest);
}
