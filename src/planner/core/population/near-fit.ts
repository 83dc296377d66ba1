/**
 * A critical activity is pulled to a minute at which it nearly fits. Where it fits, a schedule has it already; so some
 * minutes before its own are drawn, each is priced by how far crew and equipment would be overloaded then, and the one
 * with the least overload for each minute gained is taken: few others have to make room (the idea of insertion, Artigues,
 * Michelon and Reusser 2003, there exact in a flow network, here left to the decoder). Prices are read from the father's
 * schedule; nothing is decoded for them.
 */
import type { Random } from "../random.js";
import type { ScheduleDecoder } from "../schedule-decoder.js";
import type { Child } from "./crossover.js";
import { drawStaffing, findEarliest } from "./shake.js";

/** So many places are priced. */
const DRAWS = 8;

/** An activity with one of its staffings, worked from a minute on. */
export interface Place {
  readonly activity: number;
  readonly choice: number;
  readonly from: number;
}

/**
 * Pulls one of `candidates` in a child whose keys are still the starts of its father's schedule, seen in the child's own
 * direction. Whether a place was found: none of those drawn may be free to come earlier.
 */
export function pullToNearFit(
  decoder: ScheduleDecoder,
  child: Child,
  candidates: readonly number[],
  backward: boolean,
  random: Random,
): boolean {
  if (candidates.length === 0) return false;
  let best: Place | undefined;
  let least = Infinity;
  for (let draw = 0; draw < DRAWS; draw++) {
    const activity = candidates[random.below(candidates.length)] as number; // proof: below the length
    const start = child.keys[activity] ?? 0;
    const earliest = findEarliest(decoder, child, backward, activity);
    if (earliest >= start) continue;
    const choice = drawStaffing(decoder, child, activity, random);
    const from = earliest + random.below(start - earliest);
    const place = { activity, choice, from };
    const price = findOverload(decoder, child, place) / (start - from);
    if (price < least) {
      least = price;
      best = place;
    }
  }
  if (best === undefined) return false;
  // Half a minute before what starts at that very minute.
  child.keys[best.activity] = best.from - 0.5;
  child.staffing[best.activity] = best.choice;
  return true;
}

/**
 * By how much crew and equipment would be overloaded if an activity were worked at that place and all others at their
 * keys: summed over both, the minutes of each overload times its share of what there is. A crew is there once.
 */
export function findOverload(decoder: ScheduleDecoder, child: Child, place: Place): number {
  const { uses, capacity, staffings } = decoder;
  const { activity, choice, from } = place;
  const to = from + minutesOf(decoder, activity, choice);
  const crew = crewOf(decoder, activity, choice);
  const others: number[] = [];
  const cuts = [from];
  let overload = 0;
  for (const [other, start] of child.keys.entries()) {
    const option = (staffings.from[other] ?? 0) + (child.staffing[other] ?? 0);
    const end = start + (staffings.value[option] ?? 0);
    if (other === activity || start >= to || end <= from || end === start) continue;
    others.push(other);
    if (start > from) cuts.push(start);
    if (end < to) cuts.push(end);
    if (crew >= 0 && staffings.item[option] === crew) overload += Math.min(end, to) - Math.max(start, from);
  }
  cuts.sort((a, b) => a - b);
  for (let use = uses.from[activity] ?? 0; use < (uses.from[activity + 1] ?? 0); use++) {
    const equipment = uses.item[use] ?? 0;
    const count = capacity[equipment] ?? 0;
    const needs = others.map((other) => amountOf(decoder, other, equipment));
    for (const [index, cut] of cuts.entries()) {
      const minutes = (cuts[index + 1] ?? to) - cut;
      if (minutes <= 0) continue;
      let used = uses.value[use] ?? 0;
      for (const [at, other] of others.entries()) {
        const start = child.keys[other] ?? 0;
        const end = start + minutesOf(decoder, other, child.staffing[other] ?? 0);
        if (start <= cut && cut < end) used += needs[at] ?? 0;
      }
      if (used > count) overload += ((used - count) / count) * minutes;
    }
  }
  return overload;
}

function minutesOf({ staffings }: ScheduleDecoder, activity: number, choice: number): number {
  return staffings.value[(staffings.from[activity] ?? 0) + choice] ?? 0;
}

function crewOf({ staffings }: ScheduleDecoder, activity: number, choice: number): number {
  return staffings.item[(staffings.from[activity] ?? 0) + choice] ?? -1;
}

function amountOf({ uses }: ScheduleDecoder, activity: number, equipment: number): number {
  for (let use = uses.from[activity] ?? 0; use < (uses.from[activity + 1] ?? 0); use++) {
    if (uses.item[use] === equipment) return uses.value[use] ?? 0;
  }
  return 0;
}
