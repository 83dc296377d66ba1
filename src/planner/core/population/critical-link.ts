/**
 * A change of a schedule at a place that decides how long it is: one link of a critical chain is turned (the disjunctive
 * neighbourhood of Fortemps and Hapke 1997, there for all arcs of a flow network, here for one chain drawn from the
 * schedule). Walked from the last end to the beginning, each activity of the chain starts when the one before it ends:
 * because it follows it, or, which is a link that can be turned, because it had to wait for crew or equipment.
 */
import type { Random } from "../random.js";
import type { ScheduleDecoder } from "../schedule-decoder.js";
import type { Child } from "./crossover.js";
import type { Member } from "./member.js";

/** An activity is moved past the other by at most this share of the span. */
const FARTHEST = 0.1;

/** Two activities: the second starts when the first ends. */
export type Link = readonly [number, number];

/** The links of one critical chain, drawn by chance, that are no matter of precedence; in the schedule's own direction. */
export function findCriticalLinks(decoder: ScheduleDecoder, schedule: Member, random: Random): Link[] {
  const { count } = decoder;
  const { starts, ends, span, backward } = schedule;
  const rows = backward ? decoder.behind : decoder.before;
  const links: Link[] = [];
  const endingAt = new Map<number, number[]>();
  for (const [activity, end] of ends.entries()) {
    const row = endingAt.get(end);
    if (row) row.push(activity);
    else endingAt.set(end, [activity]);
  }
  const last = endingAt.get(span) ?? [];
  let now = last[drawWhere(last.length, random, () => true)] ?? -1;
  // A start of 0 ends the chain; what takes no time and follows itself in no circle does not lengthen it for ever.
  for (let steps = 0; now >= 0 && steps < count; steps++) {
    const start = starts[now] ?? 0;
    const first = rows.from[now] ?? 0;
    const edge = drawWhere((rows.from[now + 1] ?? 0) - first, random, (index) => {
      const end = ends[rows.item[first + index] ?? -1] ?? 0;
      return end + (rows.value[first + index] ?? 0) === start;
    });
    let next = edge < 0 ? -1 : (rows.item[first + edge] ?? -1);
    if (next < 0) {
      const ended = endingAt.get(start) ?? [];
      next = ended[drawWhere(ended.length, random, (at) => (starts[ended[at] ?? -1] ?? 0) < start)] ?? -1;
      if (next >= 0) links.push([next, now]);
    }
    now = next;
  }
  return links;
}

/** Turns a link of the father's schedule in a child made from it; whether there was one. `backward` is the child's. */
export function turnLink(
  decoder: ScheduleDecoder,
  { keys }: Child,
  father: Member,
  backward: boolean,
  random: Random,
): boolean {
  const links = findCriticalLinks(decoder, father, random);
  const link = links[random.below(links.length)];
  if (!link) return false;
  const [first, second] = backward === father.backward ? link : [link[1], link[0]];
  // Half a minute more than what starts at that very minute.
  const past = 0.5 + FARTHEST * father.span * random.next();
  if (random.next() < 0.5) keys[second] = (keys[first] ?? 0) - past;
  else keys[first] = (keys[second] ?? 0) + past;
  return true;
}

/** One of the numbers below `count` that pass, each with the same chance; −1 where none does. */
function drawWhere(count: number, random: Random, passes: (index: number) => boolean): number {
  let drawn = -1;
  let passed = 0;
  for (let index = 0; index < count; index++) {
    if (passes(index) && random.below(++passed) === 0) drawn = index;
  }
  return drawn;
}
