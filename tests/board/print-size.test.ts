/** How large a printed page is set: as large as it fits, and never divided where it must not be. */
import { describe, expect, it } from "vitest";
import { balance, findSize, heightOf } from "../../src/board/print-size.js";

describe("a text in a width", () => {
  it("takes a line more for each that is full, and breaks a word that is longer than a line", () => {
    const line = heightOf("ok", 10);
    expect(heightOf("", 10)).toBe(0);
    expect(heightOf("seven words that will not fit here", 10)).toBe(2 * line);
    expect(heightOf("seven words that will not fit here", 30)).toBe(line);
    expect(heightOf("o".repeat(40), 10)).toBe(3 * line);
  });

  it("is wider in bold type, and higher in larger type", () => {
    const text = "flashing ".repeat(100);
    expect(heightOf(text, 20, { isBold: true })).toBeGreaterThan(heightOf(text, 20));
    expect(heightOf("ok", 10, { scale: 2 })).toBe(2 * heightOf("ok", 10));
  });
});

describe("two columns", () => {
  it("end as evenly as undivided blocks in their order allow", () => {
    expect(balance([])).toBe(0);
    expect(balance([5])).toBe(5);
    expect(balance([3, 3])).toBe(3);
    expect(balance([1, 1, 6, 2])).toBe(8);
    expect(balance([4, 1, 1, 1, 1])).toBe(4);
  });
});

describe("the size of the type", () => {
  const sizeOf = (words: number): number =>
    findSize((width) => heightOf(Array.from({ length: words }, () => "flashing").join(" "), width));

  it("is 14 points for little, 7 for too much, and never larger for more", () => {
    expect(sizeOf(1)).toBe(14);
    expect(sizeOf(20_000)).toBe(7);
    const sizes = [200, 400, 600, 800, 1_000, 1_500, 2_000].map(sizeOf);
    expect(sizes.toSorted((one, other) => other - one)).toEqual(sizes);
    expect(new Set(sizes).size).toBeGreaterThan(4);
  });

  it("fills the page and does not run over it", () => {
    const size = findSize((width) => 4_000 / width);
    // 4,000 square em: the height in points is that of a letter page within its margins, less a little.
    const height = (4_000 / (554.4 / size)) * size;
    expect(height).toBeLessThan(734.4);
    expect(height).toBeGreaterThan(0.93 * 734.4);
  });
});
