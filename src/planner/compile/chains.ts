/**
 * Open wall: which tasks of a job make one chain (planning model, rule 8; reading 12 in DEVELOPERS.md). A chain is every
 * task on a path from an opener to the nearest closers that follow it in its area; chains that share a task are one.
 */
import type { Job, Task } from "../../domain/company-schema.js";

export interface TaskChain {
  /** In an order that respects `after`; done tasks included. */
  readonly tasks: readonly Task[];
  /** Of its first opener. */
  readonly units: number;
}

export interface JobChains {
  readonly chains: readonly TaskChain[];
  /** Openers that no task of their area closes. */
  readonly neverClosed: readonly Task[];
}

export function listChains(job: Job): JobChains {
  const order = sortByPrecedence(job.tasks);
  const followers = new Map<string, Task[]>(order.map((task) => [task.id, []]));
  for (const task of order) for (const { task: before } of task.after) followers.get(before)?.push(task);

  const neverClosed: Task[] = [];
  let groups: Set<Task>[] = [];
  for (const opener of order.filter((task) => task.opens)) {
    const members = findPathTasks(opener, followers);
    if (members.size === 0) {
      neverClosed.push(opener);
      continue;
    }
    const touching = groups.filter((group) => [...group].some((task) => members.has(task)));
    groups = [
      ...groups.filter((group) => !touching.includes(group)),
      new Set([...touching.flatMap((group) => [...group]), ...members]),
    ];
  }
  const chains = groups.map((group) => {
    const tasks = order.filter((task) => group.has(task));
    return { tasks, units: tasks.find((task) => task.opens)?.units ?? 1 };
  });
  return { chains, neverClosed };
}

/** Tasks of a job so that each comes after what it follows; ties as in the file. */
export function sortByPrecedence(tasks: readonly Task[]): readonly Task[] {
  const byId = new Map(tasks.map((task) => [task.id, task]));
  const sorted = new Set<Task>();
  const visit = (task: Task): void => {
    if (sorted.has(task)) return;
    for (const { task: id } of task.after) {
      const before = byId.get(id);
      if (before) visit(before);
    }
    sorted.add(task);
  };
  for (const task of tasks) visit(task);
  return [...sorted];
}

/** The tasks on paths from an opener to the nearest closers in its area, or none when nothing closes it. */
function findPathTasks(opener: Task, followers: ReadonlyMap<string, readonly Task[]>): ReadonlySet<Task> {
  const onPath = new Map<Task, boolean>();
  const reachesCloser = (task: Task): boolean => {
    const known = onPath.get(task);
    if (known !== undefined) return known;
    let found = task.closes && task.area === opener.area;
    // Paths end at the nearest closer: what follows it is no longer open wall.
    if (!found) for (const next of followers.get(task.id) ?? []) found = reachesCloser(next) || found;
    onPath.set(task, found);
    return found;
  };
  reachesCloser(opener);
  return new Set([...onPath].filter(([, found]) => found).map(([task]) => task));
}
