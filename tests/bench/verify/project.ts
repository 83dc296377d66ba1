/**
 * Verifies a schedule of a project (PSPLIB, MPLIB) from the file's data: lengths, release dates, order, and the units
 * in use at every single minute. Start and end as far apart as the length: nothing is interrupted.
 */
import type { ProjectInstance } from "../readers/project-instance.js";
import { toSpans, type Schedule } from "./schedule.js";

/** Every rule that the schedule breaks, as sentences; none where it is good. */
export function checkProject({ activities, capacities }: ProjectInstance, schedule: Schedule): string[] {
  const spans = toSpans(schedule, activities.length);
  if (typeof spans === "string") return [spans];
  const broken: string[] = [];
  const latest = Math.max(0, ...spans.map((span) => span.end));
  const inUse = capacities.map(() => new Int32Array(latest));
  activities.forEach(({ name, minutes, demands, successors, releaseMinute }, index) => {
    const { start, end } = spans[index] ?? { start: 0, end: 0 };
    if (end - start !== minutes) broken.push(`activity ${name} takes ${end - start} and not ${minutes}`);
    if (start < releaseMinute) broken.push(`activity ${name} starts at ${start}, before ${releaseMinute}`);
    for (const successor of successors) {
      const next = spans[successor]?.start ?? 0;
      if (next < end) {
        broken.push(
          `activity ${activities[successor]?.name ?? ""} starts at ${next}, before ${name} ends at ${end}`,
        );
      }
    }
    demands.forEach((demand, resource) => {
      const units = inUse[resource];
      if (units === undefined) return;
      for (let minute = start; minute < end; minute++) units[minute] = (units[minute] ?? 0) + demand;
    });
  });
  inUse.forEach((units, resource) => {
    const capacity = capacities[resource] ?? 0;
    const minute = units.findIndex((amount) => amount > capacity);
    if (minute !== -1) {
      broken.push(
        `at ${minute}, ${units[minute]} units of resource ${resource + 1} are in use; there are ${capacity}`,
      );
    }
  });
  return broken;
}
