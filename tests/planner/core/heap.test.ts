/** The heap: least first key, then least second key, then least item. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Heap } from "../../../src/planner/core/heap.js";

type Entry = readonly [item: number, first: number, second: number];
const anyEntries = fc
  .uniqueArray(fc.nat(200), { maxLength: 60 })
  .chain((items) =>
    fc.tuple(
      ...items.map((item) =>
        fc.tuple(fc.constant(item), fc.integer({ min: -3, max: 3 }), fc.integer({ min: -3, max: 3 })),
      ),
    ),
  );
const inOrder = (a: Entry, b: Entry) => a[1] - b[1] || a[2] - b[2] || a[0] - b[0];

function filled(entries: readonly Entry[]): Heap {
  const heap = new Heap();
  for (const entry of entries) heap.push(...entry);
  return heap;
}

describe("a heap", () => {
  it("gives its items back in the order of their keys", () => {
    fc.assert(
      fc.property(anyEntries, (entries) => {
        const heap = filled(entries);
        const popped = entries.map(() => heap.pop());
        expect(popped).toEqual([...entries].sort(inOrder).map(([item]) => item));
        expect(heap.pop()).toBeUndefined();
      }),
    );
  });

  it("keeps the order when items come and go in turns", () => {
    fc.assert(
      fc.property(anyEntries, fc.nat(30), (entries, early) => {
        const heap = filled(entries.slice(0, early));
        const sorted = entries.slice(0, early).sort(inOrder);
        expect(heap.pop()).toBe(sorted[0]?.[0]);
        const rest = [...sorted.slice(1), ...entries.slice(early)].sort(inOrder);
        for (const entry of entries.slice(early)) heap.push(...entry);
        expect(heap.size).toBe(rest.length);
        expect(rest.map(() => heap.pop())).toEqual(rest.map(([item]) => item));
      }),
    );
  });

  it("knows whether an entry would come after its least one", () => {
    fc.assert(
      fc.property(
        anyEntries,
        fc.integer({ min: 201, max: 400 }),
        fc.integer({ min: -3, max: 3 }),
        (entries, item, key) => {
          const [least] = [...entries].sort(inOrder);
          const expected = least !== undefined && inOrder([item, key, key], least) > 0;
          expect(filled(entries).isBehind(item, key, key)).toBe(expected);
        },
      ),
    );
  });

  it("has nothing when it is empty", () => {
    expect([new Heap().pop(), new Heap().size, new Heap().isBehind(1, 1, 1)]).toEqual([undefined, 0, false]);
  });
});
