/**
 * How many minutes a task takes a crew, and how they fall on the units of a chain (readings 11 and 13).
 * Ranges rather than numbers: hours are decimal fractions, and a last-digit error must not be blamed on a plan.
 */
import type { Crew, Task } from "../../domain/company-schema.js";
import type { TaskFact } from "./evidence.js";

/** Both ends included; they differ only where an exact result lies within a millionth of a whole minute. */
export interface Range {
  readonly least: number;
  readonly most: number;
}

const TINY = 1e-6;

export const inRange = (value: number, { least, most }: Range): boolean => least <= value && value <= most;
export const ceilRange = (exact: number): Range => ({
  least: Math.ceil(exact - TINY),
  most: Math.ceil(exact + TINY),
});
const floorRange = (exact: number): Range => ({
  least: Math.floor(exact - TINY),
  most: Math.floor(exact + TINY),
});

/** Labor-hours that a task still asks for. */
export function hoursLeft(task: Task): number {
  if (task.status === "done") return 0;
  if (task.status === "under-way" && task.leftHours !== null) return task.leftHours;
  return task.laborHours ?? 0;
}

/** Whether the task needs a crew in this plan: not a wait, not done, not of 0 hours. */
export const needsCrew = ({ task }: TaskFact): boolean => task.trade !== null && hoursLeft(task) > 0;

/** Minutes on a crew; undefined where the crew does not have the trade. */
export function lengthOn(crew: Crew, { task }: TaskFact): Range | undefined {
  const pace = task.trade === null ? undefined : crew.trades[task.trade];
  if (pace === undefined) return undefined;
  return ceilRange((hoursLeft(task) * 60) / (crew.size * pace));
}

/** Hours left of each of the units, what is done being taken from the first ones. Index 0 is unit 1. */
export function hoursByUnit(task: Task, units: number): number[] {
  const each = (task.laborHours ?? 0) / units;
  const left = hoursLeft(task);
  const done = (task.laborHours ?? 0) - left;
  // More left than was ever estimated: nothing can be said to be done.
  if (done < 0) return Array.from({ length: units }, () => left / units);
  return Array.from({ length: units }, (_, u) => each - Math.min(each, Math.max(0, done - u * each)));
}

/** What a unit gets of a task's minutes: the plain answer, and what a last-digit error would still allow. */
export interface Share extends Range {
  readonly minutes: number;
}

/** Minutes of each unit out of the task's `minutes`, cut at whole minutes of the running sum. Index 0 is unit 1. */
export function sharesOf(task: Task, units: number, minutes: number): Share[] {
  const hours = hoursByUnit(task, units);
  const all = hours.reduce((sum, h) => sum + h, 0);
  let running = 0;
  let before: Range = { least: 0, most: 0 };
  return hours.map((h, index) => {
    running += h;
    const isLast = index === hours.length - 1;
    const cut =
      isLast || all === 0 ? { least: minutes, most: minutes } : floorRange((minutes * running) / all);
    const share = {
      minutes: cut.most - before.most,
      least: Math.max(0, cut.least - before.most),
      most: cut.most - before.least,
    };
    before = cut;
    return share;
  });
}
