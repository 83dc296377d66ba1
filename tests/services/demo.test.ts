/**
 * Relative dates in the demo company, and what the demo is on any day on which it may be loaded.
 */
import { describe, expect, it } from "vitest";
import { formatFault, parseCompany } from "../../src/domain/company-file.js";
import { addDays, civilDate } from "../../src/domain/time.js";
import { layDate, layDemo, readDemoTemplate } from "../../src/services/demo.js";

const MONDAY = civilDate("2026-12-07");

describe("a relative date", () => {
  it.each([
    ["@+3", "2026-12-10"],
    ["@-7", "2026-11-30"],
    ["@+0", "2026-12-07"],
    ["@wed", "2026-12-09"],
    ["@wedT07:30", "2026-12-09T07:30"],
    ["@wed+1T00:00", "2026-12-10T00:00"],
    ["@sat+7", "2026-12-19"],
    ["@work+1", "2026-12-08"],
    ["@work+5", "2026-12-14"],
    ["@work-1T14:00", "2026-12-04T14:00"],
    ["@work-6", "2026-11-27"],
  ])("%s, loaded on Monday 7 December 2026, is %s", (text, date) => {
    expect(layDate(text, MONDAY)).toBe(date);
  });

  it("names the coming weekday even on that weekday", () => {
    expect(layDate("@mon", MONDAY)).toBe("2026-12-14");
  });

  it("passes over the weekend on a Friday and on a Sunday", () => {
    expect(layDate("@work+1", civilDate("2027-03-12"))).toBe("2027-03-15");
    expect(layDate("@work-1", civilDate("2027-03-14"))).toBe("2027-03-12");
  });

  it("that is none is a bug in the seed, and says which", () => {
    expect(() => layDate("@tomorrow", MONDAY)).toThrow('"@tomorrow"');
    expect(() => layDate("@", MONDAY)).toThrow('"@"');
  });
});

describe("the demo company", () => {
  it("has no fault on any of 400 days on end", async () => {
    const template = await readDemoTemplate();
    const faults = Array.from({ length: 400 }, (_, day) => addDays(MONDAY, day)).flatMap((date) => {
      const parsed = parseCompany(layDemo(template, date));
      return parsed.ok ? [] : parsed.error.map((fault) => `${date}: ${formatFault(fault)}`);
    });
    expect(faults).toEqual([]);
  });
});
