/**
 * Small changes of a schedule, made in place. To shuffle a window: what starts in a stretch of time comes in any order
 * (the destruction of iterated greedy, Ruiz and Stützle 2007, on a stretch of time as in the decomposition of Debels and
 * Vanhoucke 2007). To jitter: some activities all over come somewhat earlier or later. To pull: some activities that wait for crews or equipment come earlier, as early as what
 * they follow lets them at the most. Backward schedules are changed alike, so that what is pulled ends later.
 */
import type { Random } from "../random.js";
import type { ScheduleDecoder } from "../schedule-decoder.js";
import type { Child } from "./crossover.js";

/** Shares of the span that a shuffled window has. */
const SHORTEST_WINDOW = 0.02;
const LONGEST_WINDOW = 0.25;
/** A jitter touches up to this share of the activities, and moves them by up to this share of the span. */
const MOST_JITTERED = 0.3;
const WIDEST_JITTER = 0.1;
const MOST_PULLED = 4;
/** How often an activity is drawn before a pull is given up because none waits. */
const DRAWS = 20;
/** Of the activities that a change touches, so many get another staffing, where they have a choice. */
const RESTAFFED = 0.2;

export function shuffleWindow(decoder: ScheduleDecoder, child: Child, span: number, random: Random): void {
  const { keys } = child;
  const width = span * (SHORTEST_WINDOW + (LONGEST_WINDOW - SHORTEST_WINDOW) * random.next());
  const from = random.next() * (span - width);
  for (const [activity, key] of keys.entries()) {
    if (key < from || key >= from + width) continue;
    keys[activity] = from + width * random.next();
    restaff(decoder, child, activity, random);
  }
}

export function jitter(decoder: ScheduleDecoder, child: Child, span: number, random: Random): void {
  const { keys } = child;
  const width = span * WIDEST_JITTER * random.next();
  const share = MOST_JITTERED * random.next();
  for (const [activity, key] of keys.entries()) {
    if (random.next() >= share) continue;
    keys[activity] = key + width * (2 * random.next() - 1);
    restaff(decoder, child, activity, random);
  }
}

export function pull(decoder: ScheduleDecoder, child: Child, backward: boolean, random: Random): void {
  const { keys } = child;
  const starts = keys.slice();
  for (let times = 1 + random.below(MOST_PULLED); times > 0; times--) {
    for (let draw = 0; draw < DRAWS; draw++) {
      const activity = random.below(decoder.count);
      const start = starts[activity] ?? 0;
      const earliest = findEarliest(decoder, { ...child, keys: starts }, backward, activity);
      if (earliest >= start) continue;
      // Half a minute before what starts at that very minute.
      keys[activity] = earliest + (start - earliest) * random.next() - 0.5;
      restaff(decoder, child, activity, random);
      break;
    }
  }
}

/** When all that an activity follows in this direction has ended, lags included. */
export function findEarliest(
  { before, behind, staffings }: ScheduleDecoder,
  { keys, staffing }: Child,
  backward: boolean,
  activity: number,
): number {
  const rows = backward ? behind : before;
  let earliest = 0;
  for (let edge = rows.from[activity] ?? 0; edge < (rows.from[activity + 1] ?? 0); edge++) {
    const other = rows.item[edge] ?? 0;
    const minutes = staffings.value[(staffings.from[other] ?? 0) + (staffing[other] ?? 0)] ?? 0;
    earliest = Math.max(earliest, (keys[other] ?? 0) + minutes + (rows.value[edge] ?? 0));
  }
  return earliest;
}

function restaff(decoder: ScheduleDecoder, child: Child, activity: number, random: Random): void {
  child.staffing[activity] = drawStaffing(decoder, child, activity, random);
}

/** The staffing of an activity that is changed: mostly the one that it has. */
export function drawStaffing(
  { staffings }: ScheduleDecoder,
  { staffing }: Child,
  activity: number,
  random: Random,
): number {
  const choices = (staffings.from[activity + 1] ?? 0) - (staffings.from[activity] ?? 0);
  return choices > 1 && random.next() < RESTAFFED ? random.below(choices) : (staffing[activity] ?? 0);
}
