/** The arithmetic behind the figures of the company planner. */
import { describe, expect, it } from "vitest";
import { N_LOG_N_EXPONENT } from "./growth.js";
import { isMet } from "./measure-run.js";
import { fitExponent, medianOf } from "./measure.js";

describe("figures of the company planner", () => {
  it("find the exponent of a power of the size", () => {
    const sizes = [500, 1000, 8000];
    expect(fitExponent(sizes.map((size) => ({ size, cost: 3 * size ** 1.5 })))).toBeCloseTo(1.5, 10);
  });

  it("use as yardstick what n·log n itself shows, a little more than 1", () => {
    expect(N_LOG_N_EXPONENT).toBeGreaterThan(1.1);
    expect(N_LOG_N_EXPONENT).toBeLessThan(1.2);
  });

  it("take the middle of the rounds", () => {
    expect(medianOf([9, 1, 5])).toBe(5);
    expect(medianOf([4, 1, 2, 3])).toBe(2);
  });

  it("meet a bar from the right side, and never with a fault or without a figure", () => {
    const measured = { value: 10, more: "", faults: [] };
    expect(isMet(measured, { kind: "at most", value: 10 })).toBe(true);
    expect(isMet(measured, { kind: "at least", value: 11 })).toBe(false);
    expect(isMet({ ...measured, faults: ["broken"] }, { kind: "at most", value: 10 })).toBe(false);
    expect(isMet({ ...measured, value: undefined }, { kind: "at most", value: 10 })).toBe(false);
  });
});
