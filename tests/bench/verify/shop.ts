/**
 * Verifies a schedule of a flexible job shop from the file's data: a machine that may do the operation, its length
 * there, the order within the job, and one operation at a time on a machine.
 */
import type { ShopInstance } from "../readers/fjsp.js";
import { listDoubleBookings } from "./one-at-a-time.js";
import { toSpans, type Schedule } from "./schedule.js";

/** Every rule that the schedule breaks, as sentences; none where it is good. */
export function checkShop({ operations }: ShopInstance, schedule: Schedule): string[] {
  const spans = toSpans(schedule, operations.length);
  if (typeof spans === "string") return [spans];
  const broken: string[] = [];
  operations.forEach(({ job, place, choices }, index) => {
    const { start, end, crew } = spans[index] ?? { start: 0, end: 0, crew: -1 };
    const name = `operation ${place + 1} of job ${job + 1}`;
    const choice = choices.find(({ machine }) => machine === crew);
    if (choice === undefined) broken.push(`${name} is on machine ${crew + 1}, which cannot do it`);
    else if (end - start !== choice.minutes) {
      broken.push(`${name} takes ${end - start} on machine ${crew + 1} and not ${choice.minutes}`);
    }
    const before = place > 0 ? (spans[index - 1]?.end ?? 0) : 0;
    if (start < before) broken.push(`${name} starts at ${start}, before the one before it ends at ${before}`);
  });
  return [...broken, ...listDoubleBookings(spans)];
}
