/**
 * Orders from priorities: the activity of the least key comes first, and before it whatever it follows. Sorted by start
 * times this is the topological order of a schedule (Valls, Quintanilla and Ballestín 2003), and decoding it again
 * gives a schedule that is as good or better.
 */
import type { ScheduleDecoder } from "../schedule-decoder.js";

export class TopologicalOrder {
  private readonly sorted: Int32Array;
  private readonly done: Uint8Array;
  private readonly stack: number[] = [];

  constructor(private readonly decoder: ScheduleDecoder) {
    this.sorted = Int32Array.from({ length: decoder.count }, (_, index) => index);
    this.done = new Uint8Array(decoder.count);
  }

  /** A new order by ascending keys, of equal keys by activity; `backward` for decoding from the end. */
  from(keys: ArrayLike<number>, backward: boolean): Int32Array {
    const { decoder, sorted, done, stack } = this;
    const rows = backward ? decoder.behind : decoder.before;
    const order = new Int32Array(decoder.count);
    let filled = 0;
    // Proof of the casts: keys and rows cover all activities.
    sorted.sort((a, b) => (keys[a] as number) - (keys[b] as number) || a - b);
    done.fill(0);
    for (const root of sorted) {
      if (done[root]) continue;
      stack.push(root);
      for (let top = stack.at(-1); top !== undefined; top = stack.at(-1)) {
        const height = stack.length;
        if (!done[top]) {
          for (let edge = rows.from[top] as number; edge < (rows.from[top + 1] as number); edge++) {
            const earlier = rows.item[edge] as number;
            if (!done[earlier]) stack.push(earlier);
          }
        }
        if (stack.length > height) continue;
        stack.pop();
        if (!done[top]) order[filled++] = top;
        done[top] = 1;
      }
    }
    return order;
  }
}
