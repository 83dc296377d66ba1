/** What a plan has begun by a minute, whether anybody has said so yet or not, and what it has left of it. */
import type { Minute } from "../domain/time.js";
import { instantOf, type Reading } from "./reading.js";

export interface BegunByPlan {
  readonly crew: string;
  readonly startedAt: Minute;
  /** Labor-hours planned from that minute on. */
  readonly leftHours: number;
}

/** Null where the plan has the task later, or not at all. */
export function findBegunByPlan(
  reading: Reading,
  jobId: string,
  taskId: string,
  now: Minute,
): BegunByPlan | null {
  const planned = reading.planned(jobId, taskId);
  const task = reading.task(jobId, taskId);
  const crew = planned?.crew ?? null;
  if (planned === undefined || task === undefined || crew === null || planned.start >= now) return null;
  const minutes = reading.plan.blocks.reduce((sum, block) => {
    if (block.kind !== "work" || block.job !== jobId || block.task !== taskId) return sum;
    const [start, end] = [instantOf(block.start, reading.zone), instantOf(block.end, reading.zone)];
    return sum + Math.max(0, end - Math.max(start, now));
  }, 0);
  const pace = task.trade === null ? 1 : (crew.trades[task.trade] ?? 1);
  const leftHours = Math.round((minutes / 60) * crew.size * pace * 100) / 100;
  return { crew: crew.id, startedAt: planned.start, leftHours };
}
