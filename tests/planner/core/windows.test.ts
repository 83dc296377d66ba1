/** Windows of a day, and where a stretch of work fits into them. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { minuteAt, civilDate } from "../../../src/domain/time.js";
import { compile } from "../../../src/planner/compile/compile.js";
import { LIFT } from "../../../src/planner/core/problem.js";
import { Pieces, Windows } from "../../../src/planner/core/windows.js";
import { aCompany, aJob, aTask, parsed } from "../../support/company-builder.js";

function piecesOf(...spans: readonly (readonly [number, number])[]): Pieces {
  const pieces = new Pieces();
  for (const [start, end] of spans) pieces.push(start, end);
  return pieces;
}
const spansOf = (pieces: Pieces) =>
  Array.from({ length: pieces.count }, (_, index) => [pieces.startOf(index), pieces.endOf(index)]);

/** Ascending spans with gaps between them. */
const anySpans = fc
  .array(fc.tuple(fc.integer({ min: 1, max: 50 }), fc.integer({ min: 1, max: 50 })), { maxLength: 8 })
  .map((steps) => {
    let at = 0;
    return steps.map(([gap, length]): [number, number] => {
      const start = at + gap;
      at = start + length;
      return [start, at];
    });
  });
const MINUTES = Array.from({ length: 900 }, (_, minute) => minute);
const fits = (spans: readonly (readonly [number, number])[], start: number, minutes: number) =>
  spans.some(([from, to]) => start >= from && start + minutes <= to);

describe("pieces of a day", () => {
  it("join when one begins where the last ends, and an empty one is none", () => {
    expect(spansOf(piecesOf([10, 20], [20, 30], [35, 35], [40, 50]))).toEqual([
      [10, 30],
      [40, 50],
    ]);
  });

  it("find the first minute from which work fits into one piece", () => {
    fc.assert(
      fc.property(anySpans, fc.nat(400), fc.integer({ min: 1, max: 60 }), (spans, from, minutes) => {
        const plain = MINUTES.find((minute) => minute >= from && fits(spans, minute, minutes)) ?? -1;
        expect(piecesOf(...spans).firstFit(from, minutes)).toBe(plain);
      }),
    );
  });

  it("find the last minute from which work fits and ends in time", () => {
    fc.assert(
      fc.property(anySpans, fc.nat(500), fc.integer({ min: 1, max: 60 }), (spans, by, minutes) => {
        const plain =
          MINUTES.findLast((minute) => minute + minutes <= by && fits(spans, minute, minutes)) ?? -1;
        expect(piecesOf(...spans).lastFit(minutes, by)).toBe(plain);
      }),
    );
  });

  it("hold what lies inside one of them", () => {
    const pieces = piecesOf([10, 20], [30, 40]);
    expect([pieces.holds(10, 20), pieces.holds(15, 35), pieces.holds(25, 25)]).toEqual([true, false, true]);
  });
});

describe("the windows of a crew at a house", () => {
  const day = civilDate("2027-03-16");
  const at = (clock: string) => minuteAt(day, clock, "America/New_York");
  const build = (access: [string, string] | null, lifted: number = LIFT.nothing) => {
    const holds = [
      { id: "h", from: "2027-03-16T13:00", to: "2027-03-16T13:30", trades: "all", jobs: "all" } as const,
    ];
    const company = parsed(aCompany({ holds, jobs: [aJob({ access, tasks: [aTask()] })] }));
    const { problem } = compile(company, at("00:00"), 7);
    const windows = new Windows(problem);
    const pieces = new Pieces();
    windows.build(pieces, 0, 1, 0, [company.trades.findIndex(({ id }) => id === "siding")], lifted);
    return { windows, pieces };
  };

  it("are the shift less break and holds, within access hours", () => {
    expect(spansOf(build(["08:00", "15:00"]).pieces)).toEqual([
      [at("08:00"), at("12:00")],
      [at("12:30"), at("13:00")],
      [at("13:30"), at("15:00")],
    ]);
  });

  it("grow by exactly what is lifted", () => {
    expect(spansOf(build(["08:00", "15:00"], LIFT.hold).pieces)[1]).toEqual([at("12:30"), at("15:00")]);
    expect(spansOf(build(["08:00", "15:00"], LIFT.access).pieces)[0]).toEqual([at("07:00"), at("12:00")]);
  });

  it("are not broken by the meal break, but by a hold", () => {
    const { windows, pieces } = build(null);
    expect(windows.unbroken(pieces, 0, 1, at("11:00"), at("13:00"))).toBe(true);
    expect(windows.unbroken(pieces, 0, 1, at("11:00"), at("13:01"))).toBe(false);
    expect(windows.unbroken(pieces, 0, 1, at("12:40"), at("13:40"))).toBe(false);
    expect(windows.unbroken(pieces, 0, 1, at("06:00"), at("08:00"))).toBe(false);
  });
});
