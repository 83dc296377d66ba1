/**
 * Circles in the order of tasks, by depth-first search: one for each entry that leads back to a task on the way to it.
 * Walks with a stack of its own, so that a chain of any length cannot exhaust the call stack.
 */

/**
 * Each circle found, in the order of work, its first task repeated at the end, turned so that the task that stands
 * first in the file begins it: `["t1", "t3", "t1"]`. `before` gives, for each task, the tasks that it comes after.
 */
export function listCircles(before: ReadonlyMap<string, readonly string[]>): string[][] {
  const position = new Map([...before.keys()].map((id, index) => [id, index]));
  const finished = new Set<string>();
  const circles: string[][] = [];
  for (const root of before.keys()) {
    if (finished.has(root)) continue;
    const path = [root];
    const onPath = new Set(path);
    const next = [0];
    while (path.length > 0) {
      const id = path.at(-1) ?? "";
      const edge = next.at(-1) ?? 0;
      const target = before.get(id)?.[edge];
      next[next.length - 1] = edge + 1;
      if (target === undefined) {
        path.pop();
        next.pop();
        onPath.delete(id);
        finished.add(id);
      } else if (onPath.has(target)) {
        circles.push(turned(path.slice(path.indexOf(target)).reverse(), position));
      } else if (!finished.has(target)) {
        path.push(target);
        onPath.add(target);
        next.push(0);
      }
    }
  }
  return circles;
}

function turned(circle: readonly string[], position: ReadonlyMap<string, number>): string[] {
  const places = circle.map((id) => position.get(id) ?? 0);
  const start = places.indexOf(Math.min(...places));
  const from = [...circle.slice(start), ...circle.slice(0, start)];
  return [...from, ...from.slice(0, 1)];
}
