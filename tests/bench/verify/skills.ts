/**
 * Verifies a multi-skill schedule (iMOPSE) from the file's data: a resource with the skill at the level or higher, the
 * task's length, its order, and one task at a time for each resource.
 */
import type { SkillInstance } from "../readers/imopse.js";
import { listDoubleBookings } from "./one-at-a-time.js";
import { toSpans, type Schedule } from "./schedule.js";

/** Every rule that the schedule breaks, as sentences; none where it is good. */
export function checkSkills({ resources, tasks }: SkillInstance, schedule: Schedule): string[] {
  const spans = toSpans(schedule, tasks.length);
  if (typeof spans === "string") return [spans];
  const broken: string[] = [];
  tasks.forEach(({ minutes, skill, level, predecessors }, index) => {
    const { start, end, crew } = spans[index] ?? { start: 0, end: 0, crew: -1 };
    const name = `task ${index + 1}`;
    const has = resources[crew]?.get(skill);
    if (has === undefined || has < level) {
      broken.push(`${name} is on resource ${crew + 1}, which has no ${skill} at level ${level}`);
    }
    if (end - start !== minutes) broken.push(`${name} takes ${end - start} and not ${minutes}`);
    for (const before of predecessors) {
      const ended = spans[before]?.end ?? 0;
      if (start < ended) {
        broken.push(`${name} starts at ${start}, before task ${before + 1} ends at ${ended}`);
      }
    }
  });
  return [...broken, ...listDoubleBookings(spans)];
}
