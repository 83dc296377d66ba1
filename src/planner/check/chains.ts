/**
 * The chains of a house: what lies on the paths from a task that opens the wall to the nearest one that closes it
 * (rule 8, reading 12), read from the company file alone.
 */
import type { Job, Task } from "../../domain/company-schema.js";
import { hoursByUnit } from "./length.js";

export interface Chain {
  readonly job: Job;
  /** In the order of the file. */
  readonly tasks: readonly Task[];
  readonly openers: readonly Task[];
  readonly closers: readonly Task[];
  readonly units: number;
}

/** Openers that no task of their area closes: impossible by rule 8. */
export interface JobChains {
  readonly chains: readonly Chain[];
  readonly neverClosed: readonly Task[];
}

export function chainsOf(job: Job): JobChains {
  const found: { tasks: Set<Task>; openers: Task[]; closers: Set<Task> }[] = [];
  const neverClosed: Task[] = [];
  for (const opener of job.tasks.filter((task) => task.opens)) {
    const closer = opener.closes ? opener : findNearestCloser(job, opener);
    if (closer === undefined) {
      neverClosed.push(opener);
      continue;
    }
    const merged = {
      tasks: tasksBetween(job, opener, closer),
      openers: [opener],
      closers: new Set([closer]),
    };
    for (const other of found.filter((chain) => [...chain.tasks].some((task) => merged.tasks.has(task)))) {
      found.splice(found.indexOf(other), 1);
      for (const task of other.tasks) merged.tasks.add(task);
      for (const task of other.closers) merged.closers.add(task);
      merged.openers.unshift(...other.openers);
    }
    found.push(merged);
  }
  const chains = found.map(({ tasks, openers, closers }): Chain => {
    const inFileOrder = job.tasks.filter((task) => tasks.has(task));
    const ordered = inFileOrder.filter((task) => openers.includes(task));
    return {
      job,
      tasks: inFileOrder,
      openers: ordered,
      closers: [...closers],
      units: ordered[0]?.units ?? 1,
    };
  });
  return { chains, neverClosed };
}

/** Whether the unit (from 1) stood open before the plan began: begun by an opener, not finished by every closer. */
export function wasOpen(chain: Chain, unit: number): boolean {
  const left = (task: Task) => hoursByUnit(task, chain.units)[unit - 1] ?? 0;
  const whole = (task: Task) => (task.laborHours ?? 0) / chain.units;
  const begun = (task: Task) =>
    task.status !== "to-do" && (task.status === "done" || left(task) < whole(task) - 1e-9);
  return (
    chain.openers.some(begun) && chain.closers.some((task) => task.status !== "done" && left(task) > 1e-9)
  );
}

function followersOf(job: Job, task: Task): Task[] {
  return job.tasks.filter((other) => other.after.some((link) => link.task === task.id));
}

/** The fewest steps away; of several, the first in the file. */
function findNearestCloser(job: Job, opener: Task): Task | undefined {
  const seen = new Set<Task>([opener]);
  let ring: Task[] = [opener];
  while (ring.length > 0) {
    ring = [...new Set(ring.flatMap((task) => followersOf(job, task)))].filter((task) => !seen.has(task));
    const closer = job.tasks.find((task) => ring.includes(task) && task.closes && task.area === opener.area);
    if (closer !== undefined) return closer;
    for (const task of ring) seen.add(task);
  }
  return undefined;
}

/** Everything that follows the one, or is it, and that the other follows, or is. */
function tasksBetween(job: Job, from: Task, to: Task): Set<Task> {
  const reaches = (start: Task): Set<Task> => {
    const reached = new Set<Task>([start]);
    for (const task of reached) for (const next of followersOf(job, task)) reached.add(next);
    return reached;
  };
  return new Set([...reaches(from)].filter((task) => reaches(task).has(to)));
}
