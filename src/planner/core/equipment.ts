/**
 * Counted resources: a task holds its equipment from its first start to its end, and there are only so many.
 */
import type { Activity, Problem } from "./problem.js";
import type { Timeline } from "./timeline.js";

export interface Held {
  readonly task: number;
  readonly start: number;
  readonly end: number;
}

export interface Clash {
  /** When the first of those that hold it lets go. */
  readonly until: number;
  /** The task that holds it, or −1 where the activity stands in its own way. */
  readonly by: number;
}

/** Whether any task of an activity holds equipment. */
export function usesEquipment(problem: Problem, activity: Activity): boolean {
  return activity.tasks.some((task) => (problem.tasks[task]?.equipment.length ?? 0) > 0);
}

/** The first clash of an activity's tasks with what is placed and with each other, or null. */
export function findClash(problem: Problem, timeline: Timeline, held: readonly Held[]): Clash | null {
  for (const one of held) {
    // Work under way has its equipment already; nobody can take it back.
    if (problem.tasks[one.task]?.begun) continue;
    for (const use of problem.tasks[one.task]?.equipment ?? []) {
      const others = listUses(problem, timeline, held, one, use.equipment);
      const count = problem.equipmentCount[use.equipment] ?? 0;
      const clash = firstOverload(others, one, use.amount, count);
      if (clash) return clash;
    }
  }
  return null;
}

interface Use extends Held {
  readonly amount: number;
  readonly own: boolean;
}

function listUses(
  problem: Problem,
  timeline: Timeline,
  held: readonly Held[],
  one: Held,
  equipment: number,
): Use[] {
  const uses: Use[] = [];
  const placed = timeline.equipmentUse[equipment] ?? [];
  for (let index = 0; index + 3 < placed.length; index += 4) {
    const start = placed[index] ?? 0;
    const end = placed[index + 1] ?? 0;
    if (start >= one.end || end <= one.start) continue;
    uses.push({ start, end, amount: placed[index + 2] ?? 0, task: placed[index + 3] ?? -1, own: false });
  }
  for (const other of held) {
    const start = problem.tasks[other.task]?.begun ? problem.start : other.start;
    if (other === one || start >= one.end || other.end <= one.start) continue;
    for (const use of problem.tasks[other.task]?.equipment ?? []) {
      if (use.equipment === equipment) uses.push({ ...other, start, amount: use.amount, own: true });
    }
  }
  return uses;
}

function firstOverload(uses: readonly Use[], one: Held, amount: number, count: number): Clash | null {
  const instants = [one.start, ...uses.map((use) => use.start).filter((start) => start > one.start)].sort(
    (a, b) => a - b,
  );
  for (const instant of instants) {
    const at = uses.filter((use) => use.start <= instant && use.end > instant);
    const load = at.reduce((sum, use) => sum + use.amount, amount);
    if (load <= count) continue;
    const foreign = at.filter((use) => !use.own).sort((a, b) => a.end - b.end || a.task - b.task);
    const first = foreign[0];
    return first ? { until: first.end, by: first.task } : { until: one.start, by: -1 };
  }
  return null;
}
