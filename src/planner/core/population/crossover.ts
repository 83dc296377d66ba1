/**
 * Crossover of two schedules at a time window: the father gives the window in which his schedule is busiest (the peaks of
 * Valls, Ballestín and Quintanilla 2008), the mother the order of what lies before it and after it. Staffings travel
 * with the activities.
 */
import type { Random } from "../random.js";
import type { ScheduleDecoder } from "../schedule-decoder.js";

/** The window is this share of the father's span, drawn anew each time. */
const SHORTEST_SHARE = 0.25;
const LONGEST_SHARE = 0.75;
/** Of so many windows drawn, the busiest is taken. */
const DRAWS = 3;

/** What a child is decoded from: by activity, a key (the lower comes first) and a staffing. */
export interface Child {
  readonly keys: Float64Array;
  readonly staffing: Int32Array;
}

export interface TimeWindow {
  readonly from: number;
  readonly to: number;
}

/** The busiest of some windows of a schedule with these starts. */
export function findBusyWindow(
  decoder: ScheduleDecoder,
  { keys, staffing }: Child,
  span: number,
  random: Random,
): TimeWindow {
  const { staffings, load } = decoder;
  const share = SHORTEST_SHARE + (LONGEST_SHARE - SHORTEST_SHARE) * random.next();
  const width = Math.max(1, Math.floor(span * share));
  let from = 0;
  let most = -1;
  for (let draw = 0; draw < DRAWS; draw++) {
    const begin = random.below(Math.max(1, span - width + 1));
    let work = 0;
    for (const [activity, start] of keys.entries()) {
      const option = (staffings.from[activity] ?? 0) + (staffing[activity] ?? 0);
      const end = start + (staffings.value[option] ?? 0);
      const overlap = Math.min(end, begin + width) - Math.max(start, begin);
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
export function cross(father: Child, mother: Child, { from, to }: TimeWindow): Child {
  const far = 1 + Math.max(...father.keys) + Math.max(...mother.keys);
  const staffing = mother.staffing.slice();
  const keys = father.keys.map((start, activity) => {
    const hers = mother.keys[activity] ?? 0;
    if (start < from) return hers - far;
    if (start >= to) return hers + far;
    staffing[activity] = father.staffing[activity] ?? 0;
    return start;
  });
  return { keys, staffing };
}
