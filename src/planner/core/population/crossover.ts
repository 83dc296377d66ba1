/**
 * Crossover of two schedules at a time window: the father gives the window in which his schedule is busiest (the peaks of
 * Valls, Ballestín and Quintanilla 2008), the mother the order of what lies before it and after it. Staffings travel
 * with the activities.
 */
import type { Random } from "../random.js";
import type { Solution } from "../search.js";

/** The window is this share of the father's length, drawn anew each time. */
const SHORTEST_SHARE = 0.25;
const LONGEST_SHARE = 0.75;
/** Of so many windows drawn, the busiest is taken. */
const DRAWS = 3;

export interface Child {
  /** By activity: the lower comes first. */
  readonly keys: Float64Array;
  readonly staffing: Int32Array;
}

export interface TimeWindow {
  readonly from: number;
  readonly to: number;
}

export function findBusyWindow(father: Solution, load: Float64Array, random: Random): TimeWindow {
  const length = Math.max(1, findEnd(father));
  const share = SHORTEST_SHARE + (LONGEST_SHARE - SHORTEST_SHARE) * random.next();
  const width = Math.max(1, Math.floor(length * share));
  let from = 0;
  let most = -1;
  for (let draw = 0; draw < DRAWS; draw++) {
    const begin = random.below(length - width + 1);
    let work = 0;
    for (const [activity, end] of father.ends.entries()) {
      const overlap = Math.min(end, begin + width) - Math.max(father.starts[activity] ?? 0, begin);
      if (overlap > 0) work += overlap * (load[activity] ?? 0);
    }
    if (work > most) {
      most = work;
      from = begin;
    }
  }
  return { from, to: from + width };
}

/** What starts inside the window keeps the father's order; what starts before or after it in his schedule, hers. */
export function cross(father: Solution, mother: Solution, { from, to }: TimeWindow): Child {
  const far = findEnd(father) + findEnd(mother) + 1;
  const staffing = mother.genome.staffing.slice();
  const keys = Float64Array.from(father.starts, (start, activity) => {
    const hers = mother.starts[activity] ?? 0;
    if (start < from) return hers - far;
    if (start >= to) return hers + far;
    staffing[activity] = father.genome.staffing[activity] ?? 0;
    return start;
  });
  return { keys, staffing };
}

function findEnd({ ends }: Solution): number {
  let last = 0;
  for (const end of ends) if (end > last) last = end;
  return last;
}
