/** Which tasks follow each other in a circle: instances with one have no schedule, and no search would end. */
import { InstanceFault } from "./instance-lines.js";

export interface Follows {
  /** Places of the tasks that come before this one. */
  readonly before: readonly number[];
  /** Line of the file where the task stands. */
  readonly line: number;
}

/** Complains at the first task that cannot be reached because it waits for itself. */
export function refuseCircles(file: string, tasks: readonly Follows[]): void {
  const open = tasks.map((task) => task.before.length);
  const followers: number[][] = tasks.map(() => []);
  tasks.forEach((task, index) => task.before.forEach((before) => followers[before]?.push(index)));
  const ready = [...tasks.keys()].filter((index) => open[index] === 0);
  for (let next = ready.pop(); next !== undefined; next = ready.pop()) {
    open[next] = -1;
    for (const follower of followers[next] ?? []) {
      const left = (open[follower] ?? 0) - 1;
      open[follower] = left;
      if (left === 0) ready.push(follower);
    }
  }
  const stuck = open.findIndex((left) => left > 0);
  const task = tasks[stuck];
  if (task !== undefined) {
    throw new InstanceFault(file, task.line, `task ${stuck + 1} waits for itself: the order has a circle`);
  }
}
