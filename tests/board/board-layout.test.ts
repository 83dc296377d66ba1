/** Where tags stand on a story pole: stripes at the true times, words never on top of each other and never cut off. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { countLines, layOutPoles, type Slot } from "../../src/board/board-layout.js";

const RANGE = { start: 0, end: 720 };
const slot = (start: number, end: number, ...needsRem: number[]): Slot => ({
  start,
  end,
  needsRem,
  isBox: true,
});

describe("the layout of story poles", () => {
  it("puts a block's stripe at its true times", () => {
    const { poles, remPerMinute } = layOutPoles(RANGE, [[slot(60, 120, 2)]]);
    expect(poles[0]?.[0]).toMatchObject({ topRem: 60 * remPerMinute, heightRem: 60 * remPerMinute });
  });

  it("takes the fullest wording that a block has room for", () => {
    const { poles } = layOutPoles(RANGE, [[slot(0, 60, 4, 1), slot(60, 80, 4, 1)]]);
    expect(poles[0]?.map((placed) => placed.wording)).toEqual([0, 1]);
  });

  it("slides words down where the words above need the room, and leaves the stripe where it was", () => {
    const { poles } = layOutPoles(RANGE, [[slot(0, 5, 1.1), slot(5, 60, 1.1)]]);
    const second = poles[0]?.[1];
    expect(second?.wordsTopRem).toBeGreaterThan(second?.topRem ?? Infinity);
    expect(second?.wordsTopRem).toBe(1.1);
  });

  it("draws the whole board larger where many short blocks follow each other", () => {
    const short = Array.from({ length: 12 }, (_, index) => slot(index * 10, index * 10 + 10, 1.1));
    const roomy = layOutPoles(RANGE, [[slot(0, 60, 1.1)]]);
    expect(layOutPoles(RANGE, [short]).remPerMinute).toBeGreaterThan(roomy.remPerMinute);
  });

  it("lets a label stand inside the time of a block before it that is no box", () => {
    const cleanup: Slot = { start: 0, end: 30, needsRem: [1.1], isBox: false };
    const { poles, remPerMinute } = layOutPoles(RANGE, [[cleanup, slot(20, 20, 1.1)]]);
    expect(poles[0]?.[1]?.wordsTopRem).toBe(20 * remPerMinute);
  });

  it("never lets words overlap, start above their time, or end below the board, whatever the day", () => {
    const day = fc.array(
      fc.record({
        gap: fc.nat(60),
        length: fc.nat(200),
        needs: fc.double({ min: 1, max: 9, noNaN: true }),
        isBox: fc.boolean(),
      }),
      { maxLength: 25 },
    );
    fc.assert(
      fc.property(fc.array(day, { minLength: 1, maxLength: 4 }), (days) => {
        const slots = days.map((blocks) => {
          let at = 0;
          return blocks.map(({ gap, length, needs, isBox }) => {
            const start = at + gap;
            at = start + length;
            return { start, end: at, needsRem: [needs, 1], isBox };
          });
        });
        const layout = layOutPoles(RANGE, slots);
        for (const [pole, placed] of layout.poles.entries()) {
          let free = 0;
          for (const [index, tag] of placed.entries()) {
            const needed = slots[pole]?.[index]?.needsRem[tag.wording] ?? Infinity;
            expect(tag.wordsTopRem).toBeGreaterThanOrEqual(Math.max(free, tag.topRem));
            expect(tag.wordsHeightRem).toBeGreaterThanOrEqual(needed);
            free = tag.wordsTopRem + tag.wordsHeightRem;
          }
          expect(layout.heightRem).toBeGreaterThanOrEqual(free);
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe("the count of lines", () => {
  it.each([
    ["one short line", "Siding", 20, 1],
    ["a break between words", "Reframe opening 2 of 3", 16, 2],
    ["a word that fits exactly", "abcde fghij", 5, 2],
    ["a word that is longer than a line", "abcdefghijkl", 5, 3],
    ["an empty text", "", 5, 1],
  ])("counts %s", (_what, text, characters, lines) => {
    expect(countLines(text, characters)).toBe(lines);
  });
});
