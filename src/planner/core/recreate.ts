/**
 * Ruin and recreate (Schrimpf and others 2000; large neighbourhoods: Shaw 1998): some days of two crews that work at about
 * the same time are given up, and the decoder staffs what was in them anew, by cost. For large problems, where a single
 * other crew or place hardly ever helps.
 */
import type { Random } from "./random.js";
import type { ScheduleDecoder } from "./schedule-decoder.js";
import type { Genome, Solution } from "./search.js";

const DAY = 1440;
/** Days around one activity whose crews' work is given up, and within which the second crew is looked for. */
const MOST_DAYS = 5;
const NEAR_DAYS = 3;
/** What a day of delay may be worth, besides lateness. */
const DAY_VALUES = [0.2, 1, 1, 2, 5, 20];
/** Share of changes that also move what is given up in the order, by a day at most. */
const MOVED = 0.5;

export interface Ruin {
  /** Its staffing is −1 where it is given up. */
  readonly genome: Genome;
  readonly dayValue: number;
}

/** `crewOf` gives the crew of an activity, −1 for none or several; only `movable` activities are given up. */
export function ruin(
  decoder: ScheduleDecoder,
  { genome, starts }: Solution,
  movable: readonly number[],
  crewOf: (activity: number) => number,
  random: Random,
): Ruin {
  const dayValue = DAY_VALUES[random.below(DAY_VALUES.length)] ?? 1;
  const middle = movable[random.below(movable.length)] ?? 0;
  const start = starts[middle] ?? 0;
  const isWithin = (activity: number, days: number): boolean =>
    Math.abs((starts[activity] ?? 0) - start) < days * DAY;
  const near = movable.filter((activity) => crewOf(activity) >= 0 && isWithin(activity, NEAR_DAYS));
  const crews = new Set([crewOf(middle), crewOf(near[random.below(Math.max(1, near.length))] ?? middle)]);
  const days = MOST_DAYS * (0.2 + 0.8 * random.next());
  const given = movable.filter((activity) => {
    const crew = crewOf(activity);
    return crew >= 0 && crews.has(crew) && isWithin(activity, days);
  });
  const staffing = genome.staffing.slice();
  for (const activity of given) staffing[activity] = -1;
  const order = random.next() < MOVED ? shuffled(decoder, genome.order, starts, given, random) : genome.order;
  return { genome: { order, staffing }, dayValue };
}

/** The order of starts, those of `given` moved by chance; each behind what it follows. */
function shuffled(
  decoder: ScheduleDecoder,
  order: Int32Array,
  starts: Int32Array,
  given: readonly number[],
  random: Random,
): Int32Array {
  const keys = Float64Array.from(starts);
  for (const activity of given)
    keys[activity] = (keys[activity] ?? 0) + (2 * random.next() - 1) * DAY * random.next();
  const place = new Int32Array(order.length);
  order.forEach((activity, at) => (place[activity] = at));
  const sorted = order.toSorted(
    (a, b) => (keys[a] ?? 0) - (keys[b] ?? 0) || (place[a] ?? 0) - (place[b] ?? 0),
  );
  const { from, item } = decoder.before;
  const isPut = new Uint8Array(order.length);
  const result: number[] = [];
  const put = (activity: number): void => {
    if (isPut[activity]) return;
    isPut[activity] = 1;
    for (let at = from[activity] ?? 0; at < (from[activity + 1] ?? 0); at++) put(item[at] ?? activity);
    result.push(activity);
  };
  sorted.forEach(put);
  return Int32Array.from(result);
}
